// Made from the table of operations by bindings-wasm/tests/types.rs; not to be edited.

import type { ExactNumber } from "./lixivium.js";

/** Plans a batch: from fats, superfat, alkali and water to what is weighed. */
export function plan(request: PlanRequest): PlanAnswer;

/**
 * Says how safe a batch is: the worst case over all tolerances, where the spread comes from, the
 * most alkali that is still safe, and how likely too little superfat is.
 */
export function assure(request: AssureRequest): AssureAnswer;

/**
 * Works out weights that were written down: superfat and its range, what follows, what is missing
 * and what does not fit together. Corrects nothing.
 */
export function audit(request: AuditRequest): AuditAnswer;

/** Finds the smallest additions that bring a batch back that went wrong. */
export function amend(request: AmendRequest): AmendAnswer;

/**
 * Puts other fats in the place of one: the new lye, what changes, and the nearest blend of the
 * fats at hand.
 */
export function swap(request: SwapRequest): SwapAnswer;

/**
 * Says what the fats of a bar are made of and what the bar holds, typical and as ranges; and what
 * differs between two batches beyond noise.
 */
export function composition(request: CompositionRequest): CompositionAnswer;

/** Lists fats with their published figures, each with its source. */
export function fats(request: FatsRequest): FatsAnswer;

/** Says how full a mould will be, and scales the recipe so that it is full. */
export function fill(request: FillRequest): FillAnswer;

/** Learns from a batch that was weighed and poured how much the cavities of a mould take. */
export function calibrate(request: CalibrateRequest): CalibrateAnswer;

/** Draws a mould from above, each cavity as full as it will be, as SVG. */
export function picture(request: PictureRequest): PictureAnswer;

/** Converts a quantity to another unit of the same dimension. */
export function convert(request: ConvertRequest): ConvertAnswer;

/** Each operation with its request and its answer. */
export interface Operations {
    plan: { request: PlanRequest; answer: PlanAnswer };
    assure: { request: AssureRequest; answer: AssureAnswer };
    audit: { request: AuditRequest; answer: AuditAnswer };
    amend: { request: AmendRequest; answer: AmendAnswer };
    swap: { request: SwapRequest; answer: SwapAnswer };
    composition: { request: CompositionRequest; answer: CompositionAnswer };
    fats: { request: FatsRequest; answer: FatsAnswer };
    fill: { request: FillRequest; answer: FillAnswer };
    calibrate: { request: CalibrateRequest; answer: CalibrateAnswer };
    picture: { request: PictureRequest; answer: PictureAnswer };
    convert: { request: ConvertRequest; answer: ConvertAnswer };
}

/** A mass: a number of grams, or text with a unit: mg, g, kg, oz, lb, as in "2 lb 3.5 oz". */
export type Mass = number | string;

/**
 * A volume: a number of cm³, or text with a unit: mL, cL, L, cm³, in³, US fl oz, imp fl oz, US
 * cup, US pt, US qt, US gal, imp pt, imp gal, US tsp, US tbsp.
 */
export type Volume = number | string;

/** A length: a number of cm, or text with a unit: mm, cm, m, in, ft. */
export type Length = number | string;

/** A temperature: a number of °C, or text with a unit: °C, °F. */
export type Temperature = number | string;

/** A share: a number of percent (5 means 5 %), or text such as "5 %". */
export type Share = number | string;

/** A ratio: a plain number such as 2 or 2.5, or text such as "2:1". */
export type Ratio = number | string;

/** A density: a number of g/cm³, or text with a unit: g/cm³, g/mL, kg/L, kg/m³. */
export type Density = number | string;

/**
 * A saponification value: a number of mg KOH per g, such as 190, or text with the unit mg KOH/g.
 */
export type SaponificationValue = number | string;

/** An iodine value: a number of g iodine per 100 g, such as 83, or text with the unit g/100 g. */
export type IodineValue = number | string;

/** A fat of the catalogue: its id, or another name that it goes by. */
export type FatName =
    | "olive-oil"
    | "olive-pomace-oil"
    | "coconut-oil"
    | "palm-oil"
    | "high-oleic-palm-oil"
    | "palm-olein"
    | "palm-superolein"
    | "palm-stearin"
    | "palm-kernel-oil"
    | "palm-kernel-olein"
    | "palm-kernel-stearin"
    | "babassu-oil"
    | "cohune-oil"
    | "castor-oil"
    | "hydrogenated-castor-oil"
    | "cocoa-butter"
    | "shea-butter"
    | "refined-shea-butter"
    | "mango-butter"
    | "kokum-butter"
    | "sal-butter"
    | "illipe-butter"
    | "mahua-butter"
    | "dika-butter"
    | "chinese-vegetable-tallow"
    | "beef-tallow"
    | "premier-jus"
    | "mutton-tallow"
    | "lard"
    | "rendered-pork-fat"
    | "milk-fat"
    | "almond-oil"
    | "apricot-kernel-oil"
    | "argan-oil"
    | "avocado-oil"
    | "candlenut-oil"
    | "canola-oil"
    | "high-erucic-rapeseed-oil"
    | "corn-oil"
    | "cottonseed-oil"
    | "grapeseed-oil"
    | "hazelnut-oil"
    | "hemp-seed-oil"
    | "linseed-oil"
    | "moringa-oil"
    | "mustard-oil"
    | "neem-oil"
    | "niger-seed-oil"
    | "peanut-oil"
    | "pumpkin-seed-oil"
    | "rice-bran-oil"
    | "safflower-oil"
    | "high-oleic-safflower-oil"
    | "sesame-oil"
    | "soybean-oil"
    | "sunflower-oil"
    | "mid-oleic-sunflower-oil"
    | "high-oleic-sunflower-oil"
    | "tamanu-oil"
    | "walnut-oil"
    | "wheat-germ-oil"
    | "beeswax"
    | "candelilla-wax"
    | "carnauba-wax"
    | "jojoba-oil"
    | "lanolin"
    | "rice-bran-wax"
    | "stearic-acid"
    | "rosin"
    | (string & {});

/** A batch to plan. */
export interface PlanRequest {
    /** The fats: all by mass, or all by share with total_fats or a mould. */
    fats: readonly FatRequest[];
    /** The mass of all fats, when they are given by share and no mould decides it. */
    total_fats?: Mass | null;
    /**
     * The mould to fill: with fats by share it decides total_fats, with fats by mass the answer
     * says how full it will be.
     */
    mould?: MouldRequest | null;
    /** Share of the fats that the alkali is too little to saponify; 5 means 5 %. */
    superfat: Share;
    /** The alkali; left out: sodium hydroxide, purity 100 %. */
    alkali?: AlkaliRequest | null;
    /** The water. */
    water: WaterRequest;
    /** Lye made up ahead, from which the alkali is taken. */
    stock_solution?: StockRequest | null;
    /** Acids that take up alkali. */
    acids?: readonly AcidRequest[] | null;
    /** Everything else that goes into the batter and takes up no alkali. */
    additives?: readonly AdditiveRequest[] | null;
    /** The smallest step of the scale; left out: nothing is rounded. */
    scale_step?: Mass | null;
}

/** A fat of a batch: `mass` or `share`. */
export interface FatRequest {
    /** An id or alias of the catalogue, or a fat of one's own. */
    fat: FatName | FatDescription;
    /** Its mass. */
    mass?: Mass | null;
    /** Its share of all fats. */
    share?: Share | null;
}

/**
 * A fat of one's own: a name, and exactly one of `saponification_value`, `naoh_per_gram`,
 * `koh_per_gram` and `fatty_acids`.
 */
export interface FatDescription {
    /** Its name. */
    name: string;
    /** Its saponification value, in mg KOH/g. */
    saponification_value?: SaponificationValue | null;
    /** The range in which its saponification value lies, in mg KOH/g. */
    saponification_range?: readonly [SaponificationValue, SaponificationValue] | null;
    /** Grams of pure sodium hydroxide that saponify 1 g of it. */
    naoh_per_gram?: Ratio | null;
    /** Grams of pure potassium hydroxide that saponify 1 g of it. */
    koh_per_gram?: Ratio | null;
    /** Its fatty acids in percent of mass, such as {"C18:1": 70}; they come to 100 %. */
    fatty_acids?: { readonly [name: string]: Share } | null;
    /** Its iodine value. */
    iodine_value?: IodineValue | null;
    /**
     * Its density as a liquid, for the room that it takes in a mould; left out: that of fats, with
     * a wide range.
     */
    density?: Density | null;
    /** The temperature at which it has that density; left out: 20 °C. */
    density_temperature?: Temperature | null;
}

/** A mould by its inside measures: exactly one of `box`, `cylinder`, `cavities`, `several`. */
export interface MouldRequest {
    /** One box, or some that are alike. */
    box?: BoxRequest | null;
    /** One upright cylinder, or some that are alike. */
    cylinder?: CylinderRequest | null;
    /** Cavities that are alike, each of a known size. */
    cavities?: CavitiesRequest | null;
    /** Several of these, in the order in which they are filled. */
    several?: readonly MouldPart[] | null;
    /**
     * How much of each cavity to fill, by volume, which for boxes and cylinders is by height; left
     * out: 100 %.
     */
    fill?: Share | null;
    /** What stays in the bowl: a mass, or with "%" a share of the batter; left out: nothing. */
    waste?: Mass | Share | null;
    /** Which side to err on; left out: never_overflow. */
    err_on?: "never_overflow" | "always_full" | null;
    /**
     * The temperature of the batter when it is poured, 15 to 55 °C; left out: 40 °C, common
     * practice, no source.
     */
    pour_temperature?: Temperature | null;
    /**
     * By how much the batter is smaller than its fats, lye and additives together; below 0: air
     * beaten in; left out: 0 %.
     */
    contraction?: Share | null;
    /** The density of the batter, if it was measured; left out: from its parts. */
    batter_density?: Density | null;
    /** The range in which that density lies; left out: no range. */
    batter_density_range?: readonly [Density, Density] | null;
}

/** A box. */
export interface BoxRequest {
    /** Inside length. */
    length: Length;
    /** Inside width. */
    width: Length;
    /** Inside height. */
    height: Length;
    /** How many of it; left out: 1. */
    count?: number | null;
}

/** An upright cylinder. */
export interface CylinderRequest {
    /** Inside diameter. */
    diameter: Length;
    /** Inside height. */
    height: Length;
    /** How many of it; left out: 1. */
    count?: number | null;
}

/**
 * Cavities that are alike: at most one of `volume`, `water_mass`, `bar_mass`; none only where it
 * was seen how many of them a batch filled.
 */
export interface CavitiesRequest {
    /** How many. */
    count: number;
    /** The volume of one. */
    volume?: Volume | null;
    /** The water that fills one to the brim, weighed. */
    water_mass?: Mass | null;
    /** The temperature of that water; left out: 20 °C. */
    water_temperature?: Temperature | null;
    /** The batter that one takes full to the brim, weighed. */
    bar_mass?: Mass | null;
}

/** One of several moulds: exactly one of `box`, `cylinder`, `cavities`. */
export interface MouldPart {
    /** One box, or some that are alike. */
    box?: BoxRequest | null;
    /** One upright cylinder, or some that are alike. */
    cylinder?: CylinderRequest | null;
    /** Cavities that are alike, each of a known size. */
    cavities?: CavitiesRequest | null;
    /** How much of each of its cavities to fill; left out: what the whole says. */
    fill?: Share | null;
}

/** The alkali of a batch. */
export interface AlkaliRequest {
    /** How much of it is potassium hydroxide; left out: none. */
    koh_share?: Share | null;
    /** What koh_share counts; left out: moles. */
    share_by?: "moles" | "mass" | null;
    /** Mass share of sodium hydroxide in the product as bought; left out: 100 %. */
    naoh_purity?: Share | null;
    /** Mass share of potassium hydroxide in the product as bought; left out: 100 %. */
    koh_purity?: Share | null;
}

/** The water of a batch: exactly one of `lye_concentration`, `water_to_lye`, `of_fats`. */
export interface WaterRequest {
    /** alkali as weighed / (alkali as weighed + water). */
    lye_concentration?: Share | null;
    /** water / alkali as weighed, a plain ratio: 2 or "2:1". */
    water_to_lye?: Ratio | null;
    /** water / fats. */
    of_fats?: Share | null;
    /**
     * Whether what the alkali is not (100 % minus purity) counts as water, so that less is added
     * and the rule speaks of pure alkali; left out: false.
     */
    count_alkali_water?: boolean | null;
    /** Whether the water in the acids counts as water of the lye; left out: false. */
    count_acid_water?: boolean | null;
}

/** Stock solutions: the lye concentration of each that is used. */
export interface StockRequest {
    /** alkali as bought / solution, for sodium hydroxide. */
    naoh?: Share | null;
    /** alkali as bought / solution, for potassium hydroxide. */
    koh?: Share | null;
}

/** An acid of a batch: `mass` or `of_fats`. */
export interface AcidRequest {
    /** Which acid. */
    acid: string;
    /** Its mass as bought. */
    mass?: Mass | null;
    /** Its mass as a share of all fats. */
    of_fats?: Share | null;
    /** Mass share of the acid in it, such as 5 for vinegar of 5 %; left out: 100 %. */
    strength?: Share | null;
    /** What becomes of the alkali that it takes up; left out: compensate. */
    alkali?: "compensate" | "raise_superfat" | null;
    /** Its density as bought, for the room that it takes in a mould. */
    density?: Density | null;
    /** Or the volume that its mass takes in the batter; not with of_fats. */
    displaces?: Volume | null;
}

/**
 * Something else in the batter: `mass` or `of_fats`. In a mould that decides the size of the
 * batch, a mass stays as it is and a share follows the fats.
 */
export interface AdditiveRequest {
    /** Its name. */
    name: string;
    /** Its mass. */
    mass?: Mass | null;
    /** Its mass as a share of all fats. */
    of_fats?: Share | null;
    /** Its density, for the room that it takes in a mould. */
    density?: Density | null;
    /** Or the volume that its mass takes in the batter; not with of_fats. */
    displaces?: Volume | null;
}

/** A plan and how far the batch on the bench may be from it. */
export interface AssureRequest {
    /** The batch, as for the operation plan. */
    plan: PlanRequest;
    /** What is not known exactly; left out: the published ranges of the fats alone. */
    tolerances?: TolerancesRequest | null;
    /** The superfat that the worst case shall keep; left out: 0, no free alkali. */
    floor?: Share | null;
    /** How each input is spread over its range, for the probability; left out: uniform. */
    distribution?: "uniform" | "triangular" | null;
}

/** How far the batch on the bench may be from the plan. */
export interface TolerancesRequest {
    /** One for each fat, in the order of the plan. */
    fats?: readonly FatToleranceRequest[] | null;
    /** One for each acid, in the order of the plan. */
    acids?: readonly AcidToleranceRequest[] | null;
    /** Range of the purity of the sodium hydroxide; left out: as in the plan. */
    naoh_purity?: readonly [Share, Share] | null;
    /** Range of the purity of the potassium hydroxide; left out: as in the plan. */
    koh_purity?: readonly [Share, Share] | null;
    /** By how much the sodium hydroxide may be misweighed; left out: weighing_error. */
    naoh_weighing_error?: Mass | null;
    /** By how much the potassium hydroxide may be misweighed; left out: weighing_error. */
    koh_weighing_error?: Mass | null;
    /** By how much every weighing may be off; left out: 0. */
    weighing_error?: Mass | null;
    /** The step of the scale, half of which comes to every weighing; left out: 0. */
    scale_step?: Mass | null;
}

/** How far a fat may be from what is reckoned with. */
export interface FatToleranceRequest {
    /**
     * The range of its saponification value, such as that of a supplier's certificate; left out:
     * the published range.
     */
    saponification_range?: readonly [SaponificationValue, SaponificationValue] | null;
    /** By how much it may be misweighed; left out: weighing_error of all. */
    weighing_error?: Mass | null;
}

/** How far an acid may be from what is reckoned with. */
export interface AcidToleranceRequest {
    /** The range of its strength; left out: as in the plan. */
    strength?: readonly [Share, Share] | null;
    /** By how much it may be misweighed; left out: weighing_error of all. */
    weighing_error?: Mass | null;
}

/**
 * Weights as they were written down. A mass that is left out is not known; where it is known to
 * lie in a range, it is a list of two.
 */
export interface AuditRequest {
    /** The fats. */
    fats: readonly FatRecord[];
    /** The alkalis that were used; left out: none. */
    alkalis?: readonly AlkaliRecord[] | null;
    /** Acids; left out: none. */
    acids?: readonly AcidRecord[] | null;
    /** Everything else in the batter; left out: nothing. */
    others?: readonly OtherRecord[] | null;
    /** The water of the lye, without that of stock solutions. */
    water_mass?: Mass | readonly [Mass, Mass] | null;
    /** What else was written down about the batch. */
    stated?: StatedRequest | null;
    /**
     * How far what is stated may be from the weights: shares in points, masses and ratios in
     * percent of themselves; left out: 0.5 %.
     */
    tolerance?: Share | null;
}

/** A fat that was written down. */
export interface FatRecord {
    /** An id or alias of the catalogue, or a fat of one's own. */
    fat: FatName | FatDescription;
    /** Its mass. */
    mass?: Mass | readonly [Mass, Mass] | null;
    /** The range of its saponification value; left out: the published range. */
    saponification_range?: readonly [SaponificationValue, SaponificationValue] | null;
}

/** An alkali that was written down. */
export interface AlkaliRecord {
    /** Which. */
    alkali: "naoh" | "koh";
    /** Its mass as weighed; with stock_solution: that of the solution. */
    mass?: Mass | readonly [Mass, Mass] | null;
    /** Mass share of hydroxide in it; left out: 100 %. */
    purity?: Share | readonly [Share, Share] | null;
    /**
     * The lye concentration of the stock solution that it was taken from, whose water counts
     * beside water_mass; left out: it was solid.
     */
    stock_solution?: Share | readonly [Share, Share] | null;
}

/** An acid that was written down. */
export interface AcidRecord {
    /** Which. */
    acid: string;
    /** Its mass as bought. */
    mass?: Mass | readonly [Mass, Mass] | null;
    /** Mass share of the acid in it; left out: 100 %. */
    strength?: Share | readonly [Share, Share] | null;
}

/** Something else that was written down. */
export interface OtherRecord {
    /** Its name. */
    name: string;
    /** Its mass. */
    mass?: Mass | readonly [Mass, Mass] | null;
}

/** What was written down about the batch as a whole. */
export interface StatedRequest {
    /** The superfat. */
    superfat?: Share | null;
    /** alkali as weighed / (alkali as weighed + water). */
    lye_concentration?: Share | null;
    /** water / alkali as weighed. */
    water_to_lye?: Ratio | null;
    /** Potassium hydroxide in the hydroxide, by moles. */
    koh_share?: Share | null;
    /** The mass of all fats. */
    total_fats?: Mass | null;
    /** Everything together. */
    batter_mass?: Mass | null;
}

/** What was planned, what happened, and what is still possible. */
export interface AmendRequest {
    /**
     * The batch as planned, as for the operation plan: its superfat, water and split are the
     * target, with a scale_step as they were rounded. With its mould the answer says how full that
     * will be.
     */
    plan: PlanRequest;
    /** What was weighed in truth; what is left out was weighed as planned. */
    actual: ActualRequest;
    /** How far the batch has come; left out: mixed. */
    stage?: "apart" | "fats_mixed" | "lye_made" | "mixed" | "bar" | null;
    /** What may be added; left out: fats, naoh, koh and water. */
    may_add?: readonly ("fats" | "naoh" | "koh" | "water")[] | null;
    /** The fat that may be added; left out: the fats of the plan in their planned shares. */
    fat?: FatName | FatDescription | null;
    /** In place of fat: several, of which as much of each is added as makes the whole least. */
    fats?: readonly (FatName | FatDescription)[] | null;
    /** What is brought back; left out: superfat, split and water. */
    targets?: readonly ("superfat" | "split" | "water")[] | null;
    /**
     * The iodine value that the fats shall come to, where a bar is too soft or too brittle; left
     * out: whatever it is. No published limit is known from which on a bar is too soft: take the
     * value of a bar that was hard enough.
     */
    iodine_value?: IodineValue | null;
    /**
     * The share of saturated acids, in percent of the fatty acids, that the fats shall come to;
     * left out: whatever it is. For this too no published limit is known.
     */
    saturated?: Share | null;
    /** What was titrated in the finished bars; left out: reckoned from the weights. */
    bar?: BarRequest | null;
    /** How much batter the mould takes; left out: it is not looked at. */
    room?: Mass | null;
}

/** What was weighed in truth. */
export interface ActualRequest {
    /** The mass of each fat, in the order of the plan. */
    fats?: readonly Mass[] | null;
    /** Sodium hydroxide as weighed. */
    naoh_mass?: Mass | null;
    /** Potassium hydroxide as weighed. */
    koh_mass?: Mass | null;
    /** All water of the lye. */
    water_mass?: Mass | null;
    /** The mass of each acid, in the order of the plan. */
    acids?: readonly Mass[] | null;
    /** The mass of each additive, in the order of the plan. */
    additives?: readonly Mass[] | null;
}

/** The finished bars of the batch. */
export interface BarRequest {
    /** What all of them weigh now. */
    mass: Mass;
    /** Free caustic alkali in them, as sodium hydroxide (ISO 456). */
    free_alkali: Share;
}

/** A batch, the fat to take out, and what comes in its place: `by` or `at_hand`. */
export interface SwapRequest {
    /** The batch, as for the operation plan. */
    plan: PlanRequest;
    /** The fat to take out, one of the plan. */
    replace: FatName | FatDescription;
    /** The fats that come in its place, with their shares of it. */
    by?: readonly ShareOfFat[] | null;
    /** Fats at hand, of which the nearest blend by fatty acids comes in its place. */
    at_hand?: readonly (FatName | FatDescription)[] | null;
    /**
     * Of how many fats at hand the blend may be, 1 to 3; left out: of as many as bring it nearest.
     */
    most_fats?: number | null;
    /** Prices of fats, for the difference in cost. */
    prices?: readonly PriceRequest[] | null;
}

/** A fat and how much of the fat that is taken out it takes the place of. */
export interface ShareOfFat {
    /** An id or alias of the catalogue, or a fat of one's own. */
    fat: FatName | FatDescription;
    /** Its share; all shares come to 100 %. */
    share: Share;
}

/** What a fat costs. */
export interface PriceRequest {
    /** Which fat. */
    fat: FatName | FatDescription;
    /** Price of 1 kg, in any one currency. */
    per_kg: Ratio;
}

/** A batch, or two to compare. */
export interface CompositionRequest {
    /** The batch, as for the operation plan. */
    plan: PlanRequest;
    /** Another batch to compare it with. */
    other?: PlanRequest | null;
}

/** Which fats to list. */
export interface FatsRequest {
    /** The id or another name of one fat; left out: all. */
    fat?: string | null;
}

/** A batter and the mould that it is poured into. */
export interface FillRequest {
    /** The mould; left out: that of the plan. */
    mould?: MouldRequest | null;
    /** The batter. */
    batter: BatterRequest;
}

/**
 * A batter: a plan, or a mass with a density, or what it filled the last time, or several of
 * these. What it filled goes before its density, and its density before its parts.
 */
export interface BatterRequest {
    /** The request of its plan. */
    plan?: PlanRequest | null;
    /** Its mass; left out: that of the plan. */
    mass?: Mass | null;
    /** Its density when poured. */
    density?: Density | null;
    /** The range in which that density lies; left out: no range. */
    density_range?: readonly [Density, Density] | null;
    /** How many cavities it filled, in the order of the mould. */
    full_cavities?: number | null;
    /** How full the next one was, of what was asked; left out: not begun. */
    last_cavity?: Share | null;
}

/** A batch that was weighed and poured, to learn from. */
export interface CalibrateRequest {
    /** The mould; left out: that of the plan. */
    mould?: MouldRequest | null;
    /** The batter, with full_cavities or last_cavity. */
    batter: BatterRequest;
}

/** A batter and the mould that it is poured into, to be drawn. */
export interface PictureRequest {
    /** The mould; left out: that of the plan. */
    mould?: MouldRequest | null;
    /** The batter. */
    batter: BatterRequest;
    /** A title of at most 80 characters; left out: none. */
    title?: string | null;
}

/** A quantity to convert. */
export interface ConvertRequest {
    /** The quantity with its unit, such as "2 lb 3.5 oz". */
    quantity: string;
    /** The unit that is wanted, such as "g". */
    to: string;
}

/** A planned batch: what to weigh, and what it amounts to. Masses in g, shares in percent. */
export interface PlanAnswer {
    /** The fats, in the order of the request. */
    fats: FatAnswer[];
    /** The mass of all fats. In g. */
    total_fats: ExactNumber;
    /** Sodium hydroxide as weighed, purity included. In g. */
    naoh_mass: ExactNumber;
    /** Potassium hydroxide as weighed, purity included. In g. */
    koh_mass: ExactNumber;
    /** Pure sodium hydroxide in it. In g. */
    naoh_pure_mass: ExactNumber;
    /** Pure potassium hydroxide in it. In g. */
    koh_pure_mass: ExactNumber;
    /** Potassium hydroxide in the hydroxide, by amount of substance. In %. */
    koh_share_by_moles: ExactNumber;
    /** All water of the lye, that of stock solutions included. In g. */
    water_mass: ExactNumber;
    /** Water to weigh: water_mass without what stock solutions bring. In g. */
    water_to_add_mass: ExactNumber;
    /** Stock solutions to weigh in place of the solid alkali. */
    stock_solution: StockAnswer;
    /** The acids, in the order of the request. */
    acids: AcidAnswer[];
    /** The additives, in the order of the request. */
    additives: AdditiveAnswer[];
    /** Everything together, as poured. In g. */
    batter_mass: ExactNumber;
    /**
     * Share of the fats that stays unsaponified, from the weights as they will be weighed. In %.
     */
    superfat: ExactNumber;
    /** The same with all fats at the ends of their published ranges. In %. */
    superfat_range: Range;
    /** alkali as weighed / (alkali as weighed + water). In %. */
    lye_concentration: ExactNumber;
    /** hydroxide / (alkali as weighed + water). In %. */
    hydroxide_concentration: ExactNumber;
    /** water / alkali as weighed, a plain ratio. */
    water_to_lye: ExactNumber;
    /** How full the mould will be, if one was given. */
    mould: FillingAnswer | null;
    /** What to mind. */
    cautions: Caution[];
}

/** A fat as it will be weighed. */
export interface FatAnswer {
    /** Its id in the catalogue, or its name. */
    fat: string;
    /** Its name. */
    name: string;
    /** Its mass. In g. */
    mass: ExactNumber;
    /** Its share of all fats. In %. */
    share: ExactNumber;
    /** The saponification value reckoned with. In mg KOH/g. */
    saponification_value: ExactNumber;
}

/** Stock solutions to weigh. */
export interface StockAnswer {
    /** Mass of the sodium hydroxide solution, if one is used. In g. */
    naoh_solution_mass: ExactNumber | null;
    /** Mass of the potassium hydroxide solution, if one is used. In g. */
    koh_solution_mass: ExactNumber | null;
}

/** An acid as it will be weighed. */
export interface AcidAnswer {
    /** Its id. */
    acid: string;
    /** Its name. */
    name: string;
    /** Its mass as bought. In g. */
    mass: ExactNumber;
}

/** An additive as it will be weighed. */
export interface AdditiveAnswer {
    /** Its name. */
    name: string;
    /** Its mass. In g. */
    mass: ExactNumber;
}

/** A range; an open end is left out. */
export interface Range {
    /** The lower end. */
    low?: ExactNumber;
    /** The upper end. */
    high?: ExactNumber;
}

/**
 * How full the mould of a plan will be. Reckoned on the side to err on; ranges hold all that the
 * published densities allow.
 */
export interface FillingAnswer {
    /** "short", "full" or "left_over". */
    state: string;
    /** How many cavities will be full. */
    full_cavities: number;
    /** How full the next one will be, of what was asked; 0 if none is partly full. In %. */
    last_cavity: ExactNumber;
    /** How many will stay empty. */
    empty_cavities: number;
    /** What of the poured batter finds no room. In g. */
    left_over_mass: ExactNumber | null;
    /** What stays in the bowl. In g. */
    waste_mass: ExactNumber | null;
    /** What is poured. In g. */
    poured_mass: ExactNumber | null;
    /** The whole batter. In g. */
    batter_mass: ExactNumber | null;
    /** The density of the batter at the pouring temperature, where it was needed. In g/cm³. */
    batter_density: ExactNumber | null;
    /** The range in which it lies. In g/cm³. */
    batter_density_range: Range | null;
    /** The volume of the mould as far as it is to be filled, if it is known. In cm³. */
    mould_volume: ExactNumber | null;
    /** The range in which it lies; only π makes it wider than a point. In cm³. */
    mould_volume_range: Range | null;
    /** poured / what the mould takes, on the side to err on. In %. */
    mould_filled: ExactNumber;
    /** The same with the likely densities. In %. */
    mould_filled_likely: ExactNumber;
    /** The same at all ends. In %. */
    mould_filled_range: Range;
    /** The kinds of cavity, in the order of the mould. */
    cavities: CavitiesAnswer[];
    /**
     * What to multiply the batch as weighed by to fill the mould, exactly. Where the plan has
     * acids or additives by mass, which stay, it is the factor of the fats.
     */
    scale_to_fill: ExactNumber;
    /** The fats that fill the mould beside a rule of thumb. */
    rule_of_thumb: RuleOfThumbAnswer | null;
    /** What to mind about the volume. */
    mould_cautions: Caution[];
}

/** A kind of cavity and what it holds. */
export interface CavitiesAnswer {
    /** How many there are. */
    count: number;
    /** What a full one will hold; unknown where the mass of the batter is. In g. */
    bar_mass: ExactNumber | null;
    /** What one takes of the lightest batter and of the densest. In g. */
    bar_mass_range: Range | null;
}

/**
 * The exact answer beside a rule of thumb: 0.40 ounces of fats for each cubic inch of the mould.
 * Common practice, no source.
 */
export interface RuleOfThumbAnswer {
    /** The fats that the rule gives. In g. */
    fats: ExactNumber;
    /** How much more fats fill the mould by this reckoning; below 0: less. In %. */
    difference: ExactNumber;
}

/** Something to mind. */
export interface Caution {
    /** A stable identifier. */
    code: string;
    /** One plain sentence. */
    says: string;
}

/** The superfat over everything that is not known exactly. */
export interface AssureAnswer {
    /** The superfat of the plan, as reckoned with. In %. */
    superfat: ExactNumber;
    /** The smallest superfat, and a corner that attains it. */
    worst: CornerAnswer;
    /** The largest superfat, and a corner that attains it. */
    best: CornerAnswer;
    /** Which inputs the spread comes from, the largest first. */
    spreads: SpreadAnswer[];
    /** Whether the bar could keep free alkali. */
    lye_heavy_possible: boolean;
    /** The floor that was asked for. In %. */
    floor: ExactNumber;
    /**
     * The most sodium hydroxide as weighed whose worst case keeps the floor; left out where there
     * is none. In g.
     */
    safe_naoh_mass: ExactNumber | null;
    /**
     * The most potassium hydroxide as weighed whose worst case keeps the floor; left out where
     * there is none. In g.
     */
    safe_koh_mass: ExactNumber | null;
    /** The superfat to plan so that the worst case is just the floor. In %. */
    superfat_for_floor: ExactNumber | null;
    /** The superfat to plan so that the worst case is just 0 %. In %. */
    superfat_for_zero: ExactNumber | null;
    /** How likely a superfat below the floor is. */
    below_floor: ProbabilityAnswer;
    /** How likely a superfat below 0, so a bar with free alkali, is. */
    lye_heavy: ProbabilityAnswer;
    /** What the probabilities take for granted. */
    assumptions: string[];
    /** What to mind. */
    cautions: Caution[];
}

/** A corner of the box of all inputs. */
export interface CornerAnswer {
    /** The superfat there; below 0 there is free alkali. In %. */
    superfat: ExactNumber;
    /** Where each portion stands. */
    at: TouchAnswer[];
}

/** Where a portion stands at a corner. */
export interface TouchAnswer {
    /** fat, alkali or acid. */
    role: string;
    /** Its name. */
    name: string;
    /** Its true mass there. In g. */
    mass: ExactNumber;
    /** Of a fat: its saponification value there. In mg KOH/g. */
    saponification_value: ExactNumber | null;
    /** Of an alkali: its purity there. In %. */
    purity: ExactNumber | null;
    /** Of an acid: g KOH that 1 g of it takes up. */
    koh_per_gram: ExactNumber | null;
}

/** What one input does. */
export interface SpreadAnswer {
    /** fat, alkali or acid. */
    role: string;
    /** The portion. */
    name: string;
    /** weighing, saponification_value, purity or koh_per_gram. */
    input: string;
    /** Its share of the whole spread; all shares come to 100 %. In %. */
    share: ExactNumber;
    /** The superfat if this input alone varies. In %. */
    alone: Range;
}

/** A probability. */
export interface ProbabilityAnswer {
    /** The probability itself, where it is known exactly. In %. */
    exact: ExactNumber | null;
    /** It is not smaller than this. In %. */
    at_least: ExactNumber;
    /** It is not larger than this. In %. */
    at_most: ExactNumber;
    /**
     * "corners": summed exactly over all corners of the box of inputs. "points" and "grid":
     * enclosed between two bounds, which are exact; the assumptions say why.
     */
    method: string;
}

/** What the weights amount to; what is not known enough is null. */
export interface AuditAnswer {
    /** The superfat, ranges of masses at their middle. In %. */
    superfat: ExactNumber | null;
    /** The smallest superfat over all ranges, and a corner that attains it. */
    worst: CornerAnswer | null;
    /** The largest superfat over all ranges, and a corner that attains it. */
    best: CornerAnswer | null;
    /** Whether the bar could keep free alkali. */
    lye_heavy_possible: boolean | null;
    /** The mass of all fats. In g. */
    total_fats: Range | null;
    /** Everything together. In g. */
    batter_mass: Range | null;
    /** alkali as weighed / (alkali as weighed + water). In %. */
    lye_concentration: Range | null;
    /** water / alkali as weighed. */
    water_to_lye: Range | null;
    /** Potassium hydroxide in the hydroxide, by moles. In %. */
    koh_share_by_moles: ExactNumber | null;
    /** Pure sodium hydroxide that would saponify everything, the acids included. In g. */
    full_naoh_mass: ExactNumber | null;
    /** Pure potassium hydroxide that would saponify everything, the acids included. In g. */
    full_koh_mass: ExactNumber | null;
    /** Masses that were not written down, but follow. */
    deduced: DeducedAnswer[];
    /** Masses that are not known and do not follow. */
    unknown: string[];
    /** What was stated and does not fit the weights. */
    inconsistencies: InconsistencyAnswer[];
    /** What to mind. */
    cautions: Caution[];
}

/** A mass that follows from what was written down. */
export interface DeducedAnswer {
    /** Its place, such as `fats[1]` or `water_mass`. */
    at: string;
    /** The mass. In g. */
    mass: Range;
    /** What it follows from. */
    from: string;
}

/** Something that was stated and does not fit the weights. */
export interface InconsistencyAnswer {
    /** What was stated. */
    stated: string;
    /** One plain sentence. */
    says: string;
}

/** The smallest additions, and what they do. */
export interface AmendAnswer {
    /** The batch as it is. */
    before: StateAnswer;
    /**
     * What to add; below 0: what to take back. Of all ways to the targets that with the least
     * mass, added and taken back counted alike.
     */
    additions: AdditionsAnswer;
    /** The batch with the additions. */
    after: StateAnswer;
    /**
     * Additions that make it a larger batch of the same recipe instead; null for a finished bar,
     * or where something is in it that was not planned.
     */
    same_recipe: AdditionsAnswer | null;
    /** What the mould still takes after the additions; below 0: what does not fit. In g. */
    room_left: ExactNumber | null;
    /** What to mind. */
    cautions: Caution[];
}

/** What a batch amounts to. */
export interface StateAnswer {
    /** The superfat; below 0 there is free alkali. In %. */
    superfat: ExactNumber | null;
    /** The superfat over the published ranges of the fats. In %. */
    superfat_range: Range | null;
    /** Potassium hydroxide in the hydroxide, by moles. In %. */
    koh_share_by_moles: ExactNumber | null;
    /** alkali as weighed / (alkali as weighed + water); null for a finished bar. In %. */
    lye_concentration: ExactNumber | null;
    /** water / alkali as weighed; null for a finished bar. */
    water_to_lye: ExactNumber | null;
    /** Everything together; of a finished bar: as it was poured. In g. */
    batter_mass: ExactNumber | null;
    /**
     * Its volume when poured, at the temperature of the mould of the plan, else at 40 °C; null for
     * a finished bar, or where no density is known. In cm³.
     */
    batter_volume: ExactNumber | null;
    /** The range in which that lies. In cm³. */
    batter_volume_range: Range | null;
    /** How full the mould of the plan is with it; null without one, and for a finished bar. */
    mould: FillingAnswer | null;
}

/** What to add; below 0: what to take back. */
export interface AdditionsAnswer {
    /** Fats. */
    fats: PartAnswer[];
    /** Sodium hydroxide as bought. In g. */
    naoh_mass: ExactNumber;
    /** Potassium hydroxide as bought. In g. */
    koh_mass: ExactNumber;
    /** Water. In g. */
    water_mass: ExactNumber;
    /** Acids, to keep the recipe. */
    acids: PartAnswer[];
    /** Additives, to keep the recipe. */
    additives: PartAnswer[];
    /** All that is added less what is taken back. In g. */
    total_mass: ExactNumber;
}

/** A thing to add. */
export interface PartAnswer {
    /** Its name. */
    name: string;
    /** Its mass. In g. */
    mass: ExactNumber;
}

/** A batch with other fats. */
export interface SwapAnswer {
    /** What came in the place of the fat, with its shares. */
    by: ShareAnswer[];
    /**
     * Of the nearest blend: the sum of the squared differences of the fatty acids from those of
     * the fat, in percent²; null where `by` was given.
     */
    distance: ExactNumber | null;
    /** The batch with the new fats. */
    plan: PlanAnswer;
    /** Sodium hydroxide more than before, as weighed; below 0: less. In g. */
    naoh_change: ExactNumber;
    /** Potassium hydroxide more than before, as weighed; below 0: less. In g. */
    koh_change: ExactNumber;
    /** Water more than before; below 0: less. In g. */
    water_change: ExactNumber;
    /** What the new fats have more than the old; below 0: less. */
    differences: DifferenceAnswer[];
    /**
     * What the fats cost more than before, in the currency of the prices; null where a price is
     * missing.
     */
    cost_change: ExactNumber | null;
}

/** A fat and its share. */
export interface ShareAnswer {
    /** Its id in the catalogue, or its name. */
    fat: string;
    /** Its share of the fat that it replaces. In %. */
    share: ExactNumber;
}

/** A difference of two batches. */
export interface DifferenceAnswer {
    /**
     * Which figure of the fats; between two batches also glycerol, free_fat, total_fatty_matter
     * and total_fatty_matter_dry.
     */
    figure: string;
    /** Its unit; empty for an index. */
    unit: string;
    /** The difference of the typical values. */
    typical: ExactNumber;
    /**
     * The range of the difference; a fat that both hold is taken to be of the same lot, but for
     * what the soap holds the lots are taken to be any.
     */
    range: Range;
    /** Whether its direction is sure: else it may be noise. */
    sure: boolean;
}

/** What a bar is made of. */
export interface CompositionAnswer {
    /** The figures of its fats; those that are not known of one of the fats are left out. */
    figures: FigureAnswer[];
    /** What is not known, and of which fat. */
    unknown: UnknownAnswer[];
    /** Glycerol that is set free. */
    glycerol_mass: MassEstimate;
    /** The same as a share of the batter as poured. */
    glycerol: ShareEstimate;
    /** Fat that stays unsaponified. */
    free_fat_mass: MassEstimate;
    /** The same as a share of the batter as poured. */
    free_fat: ShareEstimate;
    /** Total fatty matter of the batter as poured (as ISO 685 counts it). */
    total_fatty_matter: ShareEstimate;
    /** Total fatty matter once all water has dried off. */
    total_fatty_matter_dry: ShareEstimate;
    /** What this batch has more than the other; below 0: less. Empty without another batch. */
    differences: DifferenceAnswer[];
    /** What to mind. */
    cautions: Caution[];
}

/** A figure of the fats together. */
export interface FigureAnswer {
    /**
     * Which: the shares of acid groups saturated_to_c10, saturated_c12_to_c14, saturated_from_c15,
     * monounsaturated, polyunsaturated, hydroxylated and (the first three together) saturated;
     * then saponification_value, calculated_saponification_value, iodine_value, oxidizability.
     */
    figure: string;
    /** Its unit; empty for an index. */
    unit: string;
    /** Its standard or its paper. */
    source: string;
    /** The typical value. */
    typical: ExactNumber;
    /** The range over the published ranges of the fats. */
    range: Range;
}

/** A figure that is not known. */
export interface UnknownAnswer {
    /** Which. */
    figure: string;
    /** Of which fat. */
    fat: string;
}

/** A mass and its range. */
export interface MassEstimate {
    /** The typical value. In g. */
    typical: ExactNumber;
    /** The range over the published ranges of the fats. In g. */
    range: Range;
}

/** A share and its range. */
export interface ShareEstimate {
    /** The typical value. In %. */
    typical: ExactNumber;
    /** The range over the published ranges of the fats. In %. */
    range: Range;
}

/** Fats of the catalogue. */
export interface FatsAnswer {
    /** The fats, in the order of the catalogue. */
    fats: FatEntry[];
    /** The sources that the figures name. */
    sources: SourceEntry[];
}

/** A fat of the catalogue. */
export interface FatEntry {
    /** Its identifier. */
    id: string;
    /** Its name. */
    name: string;
    /** Other names under which it is found. */
    aliases: string[];
    /** The plant or animal and the part of it. */
    origin: string;
    /** What it is made of: glyceride, wax, fatty-acid or resin. */
    kind: string;
    /** Its INCI name. */
    inci: string | null;
    /** The INCI name of its sodium soap. */
    inci_sodium_soap: string | null;
    /** The INCI name of its potassium soap. */
    inci_potassium_soap: string | null;
    /** Whether the INCI names were seen in a glossary or are from memory. */
    inci_provenance: string;
    /** The saponification value to reckon with. In mg KOH/g. */
    saponification_value: ExactNumber;
    /** The range in which it lies. In mg KOH/g. */
    saponification_range: Range;
    /**
     * How the saponification value was chosen: mid_range is the middle of the range, single_value
     * the only one published.
     */
    saponification_rule: string;
    /** The iodine value to reckon with, if one is known. In g/100 g. */
    iodine_value: ExactNumber | null;
    /** How the iodine value was chosen; calculated means from the composition. */
    iodine_rule: string | null;
    /** All published values; the first of each property is the one that is used. */
    published: PublishedEntry[];
    /** Published ranges of its fatty acids, in percent by mass of the fatty acids. */
    fatty_acids: AcidEntry[];
}

/** A published value. */
export interface PublishedEntry {
    /**
     * What it measures: saponification_value, iodine_value, relative_density or unsaponifiable.
     */
    property: string;
    /** Its unit; empty for a relative density. */
    unit: string;
    /** The range. */
    range: Range;
    /** Of a relative density: the temperature of the fat. In °C. */
    temperature: ExactNumber | null;
    /** Of a relative density: the temperature of the water it is compared with. In °C. */
    reference_temperature: ExactNumber | null;
    /** The id of its source. */
    source: string;
    /** Whether it was seen there or is from memory. */
    provenance: string;
    /** What else to know; may be empty. */
    note: string;
}

/** The published range of a fatty acid. */
export interface AcidEntry {
    /** The acid, such as C18:1. */
    acid: string;
    /** Its trivial name. */
    name: string;
    /** The range. In %. */
    range: Range;
    /** The id of its source. */
    source: string;
    /** Whether it was seen there or is from memory. */
    provenance: string;
}

/** Where figures were published. */
export interface SourceEntry {
    /** Its identifier. */
    id: string;
    /** The standard, book or paper. */
    citation: string;
    /** Which table, chapter or part of it. */
    part: string;
    /** Licence, or how it was read. */
    remark: string;
}

/**
 * How full a mould will be, and the recipe that fills it. Reckoned on the side to err on; ranges
 * hold all that the published densities allow.
 */
export interface FillAnswer {
    /** "short", "full" or "left_over". */
    state: string;
    /** How many cavities will be full. */
    full_cavities: number;
    /** How full the next one will be, of what was asked; 0 if none is partly full. In %. */
    last_cavity: ExactNumber;
    /** How many will stay empty. */
    empty_cavities: number;
    /** What of the poured batter finds no room. In g. */
    left_over_mass: ExactNumber | null;
    /** What stays in the bowl. In g. */
    waste_mass: ExactNumber | null;
    /** What is poured. In g. */
    poured_mass: ExactNumber | null;
    /** The whole batter. In g. */
    batter_mass: ExactNumber | null;
    /** The density of the batter at the pouring temperature, where it was needed. In g/cm³. */
    batter_density: ExactNumber | null;
    /** The range in which it lies. In g/cm³. */
    batter_density_range: Range | null;
    /** The volume of the mould as far as it is to be filled, if it is known. In cm³. */
    mould_volume: ExactNumber | null;
    /** The range in which it lies; only π makes it wider than a point. In cm³. */
    mould_volume_range: Range | null;
    /** poured / what the mould takes, on the side to err on. In %. */
    mould_filled: ExactNumber;
    /** The same with the likely densities. In %. */
    mould_filled_likely: ExactNumber;
    /** The same at all ends. In %. */
    mould_filled_range: Range;
    /** The kinds of cavity, in the order of the mould. */
    cavities: CavitiesAnswer[];
    /**
     * What to multiply the batch as weighed by to fill the mould, exactly. Where the plan has
     * acids or additives by mass, which stay, it is the factor of the fats.
     */
    scale_to_fill: ExactNumber;
    /** The fats that fill the mould beside a rule of thumb. */
    rule_of_thumb: RuleOfThumbAnswer | null;
    /** What to mind about the volume. */
    mould_cautions: Caution[];
    /** The recipe scaled to fill the mould, weighed on its scale; with a plan only. */
    scaled: PlanAnswer | null;
}

/** What a batch that was poured tells. What cannot be known from what was given is left out. */
export interface CalibrateAnswer {
    /** What was poured. In g. */
    poured_mass: ExactNumber;
    /** The density of the batter, if the volume of the mould is known and right. In g/cm³. */
    batter_density: ExactNumber | null;
    /** The range in which it lies. In g/cm³. */
    batter_density_range: Range | null;
    /** The density that was expected, from the parts of the batter or as given. In g/cm³. */
    expected_density: ExactNumber | null;
    /** The range in which it lies. In g/cm³. */
    expected_density_range: Range | null;
    /** How much denser the batter was than expected; below 0: less dense. In %. */
    deviation: ExactNumber | null;
    /** The kinds of cavity, in the order of the mould. */
    cavities: CalibratedAnswer[];
    /** What to mind. */
    cautions: Caution[];
}

/** A cavity, full to the brim. */
export interface CalibratedAnswer {
    /** How many there are of its kind. */
    count: number;
    /**
     * The batter that it takes; as bar_mass of its mould it makes the next batch right whatever
     * the tables say. In g.
     */
    bar_mass: ExactNumber;
    /** Its volume, if the expected density is right. In cm³. */
    volume: ExactNumber | null;
    /** The range in which it lies. In cm³. */
    volume_range: Range | null;
}

/** A picture. */
export interface PictureAnswer {
    /** An SVG document with its own text alternative; black, white and one grey. */
    svg: string;
    /** What it shows, in words. */
    text: string;
}

/** A quantity in the unit that was asked for. */
export interface ConvertAnswer {
    /** How many of the unit. */
    quantity: ExactNumber;
    /** The unit, in its usual spelling. */
    unit: string;
}
