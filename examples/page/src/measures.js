// Moulds in words, with their measures as they were typed.

/** The volume of a mould, or of several together, as a product. */
export function measures(mould) {
    return kinds(mould)
        .map(({ count, box, cylinder, cavities, level }) => {
            const one = box
                ? lengths([box.length, box.width, box.height])
                : cylinder
                  ? `\u03c0 / 4 \u00d7 (${withUnit(cylinder.diameter, "cm")})\u00b2 \u00d7 ${withUnit(cylinder.height, "cm")}`
                  : size(cavities);
            return times(count, one) + (level ? `, filled to ${level}` : "");
        })
        .join(" + ");
}

/** What stands above each kind of cavity in a drawing, in the order of the mould. */
export function captions(mould) {
    return kinds(mould).map(({ count, box, cylinder, cavities, level }) => {
        const one = box
            ? `box, ${lengths([box.length, box.width, box.height])}`
            : cylinder
              ? `cylinder, ${withUnit(cylinder.diameter, "cm")} wide, ${withUnit(cylinder.height, "cm")} high`
              : size(cavities);
        return times(count, one) + (level ? `, full at ${level}` : "");
    });
}

/** Each kind of cavity of a mould: { count, level, and one of box, cylinder, cavities }. */
function kinds({ several, fill: all, ...one }) {
    return (several ?? [one]).map(({ box, cylinder, cavities, fill = all }) => ({
        box,
        cylinder,
        cavities,
        count: (box ?? cylinder ?? cavities).count ?? 1,
        level: fill === undefined ? undefined : withUnit(fill, "%"),
    }));
}

function times(count, text) {
    return count === 1 ? text : `${count} \u00d7 ${text}`;
}

function size({ volume, water_mass, bar_mass }) {
    if (volume !== undefined) return withUnit(volume, "mL");
    if (water_mass !== undefined) return `${withUnit(water_mass, "g")} of water`;
    return `${withUnit(bar_mass, "g")} of batter`;
}

/** Lengths as a product, with their unit once where it is the same. */
function lengths(values) {
    const texts = values.map((value) => withUnit(value, "cm"));
    const units = texts.map((text) => text.match(/[a-z]+$/i)?.[0]);
    const same = units.every((unit) => unit && unit === units[0]);
    const numbers = texts.map((text) => text.replace(/\s*[a-z]+$/i, ""));
    return same ? `${numbers.join(" \u00d7 ")}\u00a0${units[0]}` : texts.join(" \u00d7 ");
}

function withUnit(value, unit) {
    return typeof value === "number" ? `${value}\u00a0${unit}` : value;
}
