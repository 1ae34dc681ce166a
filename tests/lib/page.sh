# The page of examples/page. Sourced after tests/lib/setup.sh and tests/lib/wasm.sh.

# Builds the package and the page into examples/page/dist.
page() {
    wasm_package
    npm_packages examples/page
    (cd examples/page && npm run --silent build)
}

# Browsers, and the packages that drive them.
browsers() {
    need 'command -v chromium' chromium
    need 'command -v firefox-esr' firefox-esr
    # Without fonts nothing can be looked at.
    need 'fc-list | grep -qi dejavu' fontconfig fonts-dejavu-core
    npm_packages tests/browser
}
