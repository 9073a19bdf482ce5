/**
 * Conversions between the units of the trade. Inside the program: grams, milligrams, kilograms, g/t,
 * fractions, °C, hours; everything else is converted here, once, on the way in or out.
 *
 * Factors are exact by definition: NIST Handbook 44, Appendix C, and NIST Special Publication 811 (2008),
 * Appendix B. A contract that fixes its own rounded factors (31.1035 g, 2204.62 lb) carries them in its
 * terms; they never come from here.
 */

/** Troy ounce: 480 grains of 64.79891 mg. */
export const gramsPerTroyOunce = 31.1034768;
/** Pennyweight: 24 grains, a twentieth of a troy ounce. */
export const gramsPerPennyweight = 1.55517384;
export const milligramsPerGrain = 64.79891;
/** Avoirdupois pound: 7,000 grains. */
export const gramsPerPound = 453.59237;
export const gramsPerAvoirdupoisOunce = 28.349523125;
/** Short (net) ton: 2,000 lb. */
export const kgPerShortTon = 907.18474;
/** Long (gross) ton: 2,240 lb. */
export const kgPerLongTon = 1016.0469088;
export const kgPerTonne = 1000;

/**
 * Assay ton, 29 1/6 g (printed 29.1667 g): there are 29,166 2/3 troy ounces in a short ton, so 1 mg of bead
 * from one assay ton is 1 troy ounce per short ton.
 */
export const gramsPerAssayTon = 175 / 6;
/** Assay ton for the long ton, 32 2/3 g: there are 32,666 2/3 troy ounces in a long ton. */
export const gramsPerLongAssayTon = 98 / 3;
/** 1 troy ounce per short ton in g/t: 480 grains in 14,000,000, or 240/7 = 34.2857 g/t. */
export const gptPerOzPerShortTon = 240 / 7;
/** 1 troy ounce per long ton in g/t: 480 grains in 15,680,000, or 1500/49 = 30.6122 g/t. */
export const gptPerOzPerLongTon = 1500 / 49;
/** 1 % by mass is 10,000 g/t. */
export const gptPerPercent = 10_000;

/** US gallon: 231 cubic inches. */
export const litresPerUsGallon = 3.785411784;
export const millilitresPerUsFluidOunce = 29.5735295625;
export const millilitresPerCubicInch = 16.387064;
export const millimetresPerInch = 25.4;
/** International Table British thermal unit, kJ. */
export const kilojoulesPerBtu = 1.05505585262;

export const gramsFromTroyOunces = (troyOunces: number): number => troyOunces * gramsPerTroyOunce;
export const troyOuncesFromGrams = (grams: number): number => grams / gramsPerTroyOunce;
export const gramsFromPennyweights = (pennyweights: number): number => pennyweights * gramsPerPennyweight;
export const pennyweightsFromGrams = (grams: number): number => grams / gramsPerPennyweight;
export const milligramsFromGrains = (grains: number): number => grains * milligramsPerGrain;
export const grainsFromMilligrams = (milligrams: number): number => milligrams / milligramsPerGrain;
export const gramsFromPounds = (pounds: number): number => pounds * gramsPerPound;
export const poundsFromGrams = (grams: number): number => grams / gramsPerPound;
export const gramsFromAvoirdupoisOunces = (ounces: number): number => ounces * gramsPerAvoirdupoisOunce;
export const avoirdupoisOuncesFromGrams = (grams: number): number => grams / gramsPerAvoirdupoisOunce;
export const kgFromPounds = (pounds: number): number => (pounds * gramsPerPound) / 1000;
export const poundsFromKg = (kg: number): number => (kg * 1000) / gramsPerPound;
export const kgFromShortTons = (shortTons: number): number => shortTons * kgPerShortTon;
export const shortTonsFromKg = (kg: number): number => kg / kgPerShortTon;
export const kgFromLongTons = (longTons: number): number => longTons * kgPerLongTon;
export const longTonsFromKg = (kg: number): number => kg / kgPerLongTon;
export const kgFromTonnes = (tonnes: number): number => tonnes * kgPerTonne;
export const tonnesFromKg = (kg: number): number => kg / kgPerTonne;
export const gramsFromAssayTons = (assayTons: number): number => assayTons * gramsPerAssayTon;
export const assayTonsFromGrams = (grams: number): number => grams / gramsPerAssayTon;

export const gptFromOzPerShortTon = (ozPerShortTon: number): number => ozPerShortTon * gptPerOzPerShortTon;
export const ozPerShortTonFromGpt = (gpt: number): number => gpt / gptPerOzPerShortTon;
export const gptFromOzPerLongTon = (ozPerLongTon: number): number => ozPerLongTon * gptPerOzPerLongTon;
export const ozPerLongTonFromGpt = (gpt: number): number => gpt / gptPerOzPerLongTon;
export const gptFromPercent = (percent: number): number => percent * gptPerPercent;
export const percentFromGpt = (gpt: number): number => gpt / gptPerPercent;
export const fracFromPercent = (percent: number): number => percent / 100;
export const percentFromFrac = (frac: number): number => frac * 100;
/** Fineness is parts per thousand by mass: 0.9958 is 995.8 fine. */
export const fracFromFineness = (fineness: number): number => fineness / 1000;
export const finenessFromFrac = (frac: number): number => frac * 1000;

export const celsiusFromFahrenheit = (fahrenheit: number): number => ((fahrenheit - 32) * 5) / 9;
export const fahrenheitFromCelsius = (celsius: number): number => (celsius * 9) / 5 + 32;

export const litresFromUsGallons = (usGallons: number): number => usGallons * litresPerUsGallon;
export const usGallonsFromLitres = (litres: number): number => litres / litresPerUsGallon;
export const millilitresFromUsFluidOunces = (ounces: number): number => ounces * millilitresPerUsFluidOunce;
export const usFluidOuncesFromMillilitres = (ml: number): number => ml / millilitresPerUsFluidOunce;
export const millilitresFromCubicInches = (cubicInches: number): number =>
  cubicInches * millilitresPerCubicInch;
export const cubicInchesFromMillilitres = (ml: number): number => ml / millilitresPerCubicInch;
export const millimetresFromInches = (inches: number): number => inches * millimetresPerInch;
export const inchesFromMillimetres = (mm: number): number => mm / millimetresPerInch;
export const kilojoulesFromBtu = (btu: number): number => btu * kilojoulesPerBtu;
export const btuFromKilojoules = (kilojoules: number): number => kilojoules / kilojoulesPerBtu;
