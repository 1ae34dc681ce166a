// The screen stays on while a batch is weighed: from the first tick to the last, where the browser
// lets a page ask for it.

let wanted = false;
let lock;

/** Asks for the screen to stay on, or lets it go. */
export function keepAwake(weighing) {
    if (wanted === weighing) return;
    wanted = weighing;
    if (wanted) ask();
    else lock?.release();
}

async function ask() {
    if (!navigator.wakeLock || document.hidden) return;
    try {
        lock = await navigator.wakeLock.request("screen");
        if (!wanted) lock.release();
    } catch {
        // The battery is low, or the browser does not allow it: the screen goes off as ever.
    }
}

// A browser lets the screen go when the page is not seen.
document.addEventListener("visibilitychange", () => wanted && ask());
