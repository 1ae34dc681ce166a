// Numbers as people write them elsewhere, and how the library reads them.

/** "１２，５" → "12,5", "9½" → "9 1/2", "1 234" → "1234". */
function plain(typed) {
    return typed
        .replace(/[\uff0c\uff0e\uff10-\uff19]/g, (mark) => mark.normalize("NFKC"))
        .replace(/\s*(?:[\u00bc-\u00be]|[\u2150-\u215e])/g, (part, at) => {
            const fraction = part.trim().normalize("NFKC").replace("\u2044", "/");
            return at > 0 ? ` ${fraction}` : fraction;
        })
        .replace(/(\d)[\s'\u2019_](?=\d{3}(?![\d/]))/g, "$1");
}

/**
 * What a text with a number may have meant, written as the library reads it: nothing, if it is
 * written so already; two numbers, if a comma may be a decimal mark or group digits.
 */
export function readings(typed) {
    const text = plain(typed);
    const marks = text.replace(/[^.,]/g, "");
    const grouped = text.replace(/[.,](?=\d{3}(?!\d))/g, "");
    let meant = [text];
    if (marks === ",") {
        meant = /\d,\d/.test(text) ? [text.replace(",", ".")] : [];
        if (grouped !== text) meant.push(grouped);
    } else if (/^(?:\.+,|,+\.)$/.test(marks)) {
        // The last one is the decimal mark, whatever stands behind it.
        const last = text.lastIndexOf(marks.at(-1));
        meant = [`${text.slice(0, last).replace(/[.,]/g, "")}.${text.slice(last + 1)}`];
    } else if (marks.length > 1) {
        meant = /[.,]/.test(grouped) ? [] : [grouped];
    }
    return meant.filter((text) => text !== typed && /\d/.test(text));
}
