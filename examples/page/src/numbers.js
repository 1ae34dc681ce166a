// Numbers of answers as text. They are written from their exact form, so that nothing is rounded
// that need not be; this is the only reckoning here, and it only makes digits.

const MINUS = "\u2212";

function fraction(number) {
    const [numerator, denominator = "1"] = number.exact.split("/");
    return { numerator: BigInt(numerator), denominator: BigInt(denominator) };
}

/**
 * A number with so many digits after the point. Rounds to nearest, half away from zero; with
 * "down" to the smaller number, as is right for alkali; with "up" to the larger one.
 */
export function fixed(number, places, direction = "nearest") {
    const { numerator, denominator } = fraction(number);
    const negative = numerator < 0n;
    const scaled = (negative ? -numerator : numerator) * 10n ** BigInt(places);
    let digits = scaled / denominator;
    const rest = scaled % denominator;
    const away = {
        nearest: 2n * rest >= denominator,
        down: negative && rest > 0n,
        up: !negative && rest > 0n,
    };
    if (away[direction]) digits += 1n;
    const text = digits.toString().padStart(places + 1, "0");
    const whole = places ? text.slice(0, -places) : text;
    const sign = negative && digits > 0n ? MINUS : "";
    return sign + whole + (places ? `.${text.slice(-places)}` : "");
}

/** How many digits after the point write a number exactly; null if that takes more than `most`. */
export function placesOf(number, most) {
    const { numerator, denominator } = fraction(number);
    for (let places = 0; places <= most; places++) {
        if ((numerator * 10n ** BigInt(places)) % denominator === 0n) return places;
    }
    return null;
}

/** A number as a request can carry it: a decimal where one ends soon, else a fraction. */
export function exactText(number) {
    const places = placesOf(number, 12);
    return places === null ? number.exact : fixed(number, places).replace(MINUS, "-");
}

/** A number with up to `most` digits after the point, without needless zeros. */
export function short(number, most = 2) {
    return fixed(number, placesOf(number, most) ?? most);
}

/** Whether a number is above, below or equal to zero: 1, -1, 0. */
export function sign(number) {
    if (number.exact.startsWith("-")) return -1;
    return number.exact === "0" ? 0 : 1;
}
