"""A LibreOffice of one's own: started without a window, with a profile of its own, and stopped.

Needs a python that has LibreOffice's `uno` (Debian: python3-uno).
"""

import contextlib
import os
import pathlib
import subprocess
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.lang import DisposedException


def property_value(name, value):
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def properties(**values):
    return tuple(property_value(name, value) for name, value in values.items())


def url(path):
    return pathlib.Path(path).resolve().as_uri()


def profile_option(profile):
    return "-env:UserInstallation=" + url(profile)


def install(add_in, profile):
    """Puts an add-in into a profile, as `unopkg add` or a double click does."""
    command = ["unopkg", "add", "--force", "--suppress-license", profile_option(profile), add_in]
    subprocess.run(command, check=True, stdin=subprocess.DEVNULL)


def convert(file, to, folder, profile):
    """Has LibreOffice write `file` in another format; gives the path of the result."""
    command = ["soffice", profile_option(profile), "--headless", "--norestore", "--convert-to", to]
    command += ["--outdir", str(folder), str(file)]
    subprocess.run(
        command, check=True, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, timeout=120
    )
    return pathlib.Path(folder) / (pathlib.Path(file).stem + "." + to.split(":")[0])


class Office:
    """A LibreOffice that lives as long as the `with` block; gives its desktop and its context."""

    def __init__(self, profile, seconds=60):
        self.profile, self.seconds = profile, seconds

    def __enter__(self):
        pipe = "lixivium-{}".format(os.getpid())
        self.process = subprocess.Popen(
            ["soffice", profile_option(self.profile), "--headless", "--norestore", "--nodefault"]
            + ["--nologo", "--accept=pipe,name={};urp;".format(pipe)],
            stdin=subprocess.DEVNULL,
        )
        context = self.connected("uno:pipe,name={};urp;StarOffice.ComponentContext".format(pipe))
        self.desktop = context.ServiceManager.createInstanceWithContext(
            "com.sun.star.frame.Desktop", context
        )
        return self.desktop, context

    def connected(self, address):
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext(
            "com.sun.star.bridge.UnoUrlResolver", local
        )
        deadline = time.monotonic() + self.seconds
        while True:
            try:
                return resolver.resolve(address)
            except NoConnectException:
                if self.process.poll() is not None or time.monotonic() > deadline:
                    self.process.kill()
                    raise SystemExit("LibreOffice did not start within {} s".format(self.seconds))
                time.sleep(0.05)

    def __exit__(self, *reason):
        with contextlib.suppress(DisposedException):
            self.desktop.terminate()
        try:
            self.process.wait(self.seconds)
        except subprocess.TimeoutExpired:
            self.process.kill()


def new_sheet(desktop):
    return desktop.loadComponentFromURL(
        "private:factory/scalc", "_blank", 0, properties(Hidden=True)
    )


def store(document, path, filter_name, **options):
    document.storeToURL(url(path), properties(FilterName=filter_name, **options))
