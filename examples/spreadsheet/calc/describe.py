#!/usr/bin/env python3
"""Writes what Calc has to know of the functions: XFunctions.idl and CalcAddIns.xcu.

    describe.py FOLDER
"""

import os
import sys
from xml.sax.saxutils import escape

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pythonpath"))
from lixivium_functions import ADD_IN, FUNCTIONS  # noqa: E402


def parameter(argument):
    """IDL has no underscore in the name of a parameter, and the wizard takes the names of IDL."""
    return argument.replace("_", "")


def idl():
    yield "module lixivium { module calc {"
    yield "interface XFunctions {"
    for name, function in FUNCTIONS.items():
        names = [parameter(argument) for argument in function.arguments]
        arguments = ", ".join("[in] any {}".format(argument) for argument in names)
        result = "sequence<sequence<any> >" if function.gives_block else "any"
        yield "    {} {}({});".format(result, name, arguments)
    yield "};"
    yield "}; };"


def property_of(name, text):
    return (
        '<prop oor:name="{}"><value xml:lang="en">{}</value></prop>'.format(name, escape(text))
    )


def xcu():
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"'
    yield '    oor:name="CalcAddIns" oor:package="org.openoffice.Office">'
    yield '<node oor:name="AddInInfo">'
    yield '<node oor:name="{}" oor:op="replace">'.format(ADD_IN)
    yield '<node oor:name="AddInFunctions">'
    for name, function in FUNCTIONS.items():
        yield '<node oor:name="{}" oor:op="replace">'.format(name)
        # What is typed, in every language, and what a file of Excel says. The name in files of
        # Calc is made of the add-in's and the function's, and so is the same.
        full = "{}.{}".format(ADD_IN, name)
        yield property_of("DisplayName", full)
        yield property_of("CompatibilityName", full)
        yield property_of("Description", function.says)
        yield '<prop oor:name="Category"><value>Add-In</value></prop>'
        yield '<node oor:name="Parameters">'
        for argument, says in function.arguments.items():
            yield '<node oor:name="{}" oor:op="replace">'.format(parameter(argument))
            yield property_of("DisplayName", argument)
            yield property_of("Description", says)
            yield "</node>"
        yield "</node></node>"
    yield "</node></node></node></oor:component-data>"


if __name__ == "__main__":
    for file, lines in ("XFunctions.idl", idl()), ("CalcAddIns.xcu", xcu()):
        with open(os.path.join(sys.argv[1], file), "w", encoding="utf-8") as out:
            out.writelines(line + "\n" for line in lines)
