// Builds the page into dist/:
//
//   dist/site/             index.html, page.js, page.css and the module, for any static server
//   dist/bench-card.html   all of it in one file, which also works from disk
//
// Usage: node build.mjs [PACKAGE]
// PACKAGE is the folder of the built package, ../../bindings-wasm/pkg if it is left out.

import { createHash } from "node:crypto";
import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const library = resolve(process.argv[2] ?? join(here, "../../bindings-wasm/pkg"));
const dist = join(here, "dist");

/** The script and the style sheet, with one of the entries of the package. */
async function bundle(entry, wasm) {
    const options = { bundle: true, minify: true, write: false, logLevel: "warning" };
    const script = await build({
        ...options,
        entryPoints: [join(here, "src/main.js")],
        alias: { lixivium: join(library, "js", entry) },
        define: { WASM: wasm },
        format: "esm",
        target: "es2022",
    });
    const style = await build({ ...options, entryPoints: [join(here, "src/page.css")] });
    return { script: script.outputFiles[0].text, style: style.outputFiles[0].text };
}

const page = readFileSync(join(here, "index.html"), "utf8");

/** The page with its policy, and with what stands at the end of its head. */
function html(policy, head) {
    const rules = [
        "default-src 'none'",
        ...policy,
        "img-src data:",
        "base-uri 'none'",
        "form-action 'none'",
    ];
    return page
        .replace("default-src 'none'", () => rules.join("; "))
        .replace("</head>", () => `${head}\n  </head>`);
}

rmSync(dist, { recursive: true, force: true });
const site = join(dist, "site");
mkdirSync(site, { recursive: true });

async function buildSite() {
    const { script, style } = await bundle("web.js", '"lixivium.wasm"');
    const policy = [
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "connect-src 'self'",
    ];
    const head =
        '  <link rel="stylesheet" href="page.css">\n    <script type="module" src="page.js"></script>';
    writeFileSync(join(site, "index.html"), html(policy, head));
    writeFileSync(join(site, "page.js"), script);
    writeFileSync(join(site, "page.css"), style);
    copyFileSync(join(library, "lixivium.wasm"), join(site, "lixivium.wasm"));
}

async function buildFile() {
    const bundled = await bundle("inline.js", "undefined");
    const script = bundled.script.replaceAll("</script", "<\\/script");
    const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
    const policy = [
        `script-src ${hash(script)} 'wasm-unsafe-eval'`,
        `style-src ${hash(bundled.style)}`,
    ];
    const head = `  <style>${bundled.style}</style>\n    <script type="module">${script}</script>`;
    const text = html(policy, head);
    writeFileSync(join(dist, "bench-card.html"), text);
    console.log(
        `dist/bench-card.html: ${Buffer.byteLength(text)} bytes, ${gzipSync(text, { level: 9 }).length} gzip`,
    );
}

await buildSite();
await buildFile();
