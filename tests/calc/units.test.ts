import ucum from '@lhncbc/ucum-lhc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as units from '../../api/calc/units.ts';

/** The Unified Code for Units of Measure as kept by the US National Library of Medicine: a library of no trade. */
function byUcum(value: number, from: string, to: string): number {
  const { status, toVal, msg } = ucum.UcumLhcUtils.getInstance().convertUnitTo(from, value, to);
  if (status !== 'succeeded' || toVal === null) throw new Error(msg.join(' '));
  return toVal;
}

const nearTo = (wanted: number) => ({
  within: (got: number) => expect(Math.abs(got / wanted - 1)).toBeLessThan(1e-12),
});

describe('conversions against the Unified Code for Units of Measure', () => {
  it.each([
    ['[oz_tr]', 'g', units.gramsFromTroyOunces, units.troyOuncesFromGrams],
    ['[pwt_tr]', 'g', units.gramsFromPennyweights, units.pennyweightsFromGrams],
    ['[gr]', 'mg', units.milligramsFromGrains, units.grainsFromMilligrams],
    ['[lb_av]', 'g', units.gramsFromPounds, units.poundsFromGrams],
    ['[lb_av]', 'kg', units.kgFromPounds, units.poundsFromKg],
    ['[oz_av]', 'g', units.gramsFromAvoirdupoisOunces, units.avoirdupoisOuncesFromGrams],
    ['[ston_av]', 'kg', units.kgFromShortTons, units.shortTonsFromKg],
    ['[lton_av]', 'kg', units.kgFromLongTons, units.longTonsFromKg],
    ['t', 'kg', units.kgFromTonnes, units.tonnesFromKg],
    ['[oz_tr]/[ston_av]', 'g/t', units.gptFromOzPerShortTon, units.ozPerShortTonFromGpt],
    ['[oz_tr]/[lton_av]', 'g/t', units.gptFromOzPerLongTon, units.ozPerLongTonFromGpt],
    ['%', 'g/t', units.gptFromPercent, units.percentFromGpt],
    ['%', '1', units.fracFromPercent, units.percentFromFrac],
    ['[ppth]', '1', units.fracFromFineness, units.finenessFromFrac],
    ['[gal_us]', 'L', units.litresFromUsGallons, units.usGallonsFromLitres],
    ['[foz_us]', 'mL', units.millilitresFromUsFluidOunces, units.usFluidOuncesFromMillilitres],
    ['[cin_i]', 'mL', units.millilitresFromCubicInches, units.cubicInchesFromMillilitres],
    ['[in_i]', 'mm', units.millimetresFromInches, units.inchesFromMillimetres],
    ['[Btu_IT]', 'kJ', units.kilojoulesFromBtu, units.btuFromKilojoules],
  ] as const)('%s to %s and back', (trade, metric, into, outOf) => {
    nearTo(byUcum(7.25, trade, metric)).within(into(7.25));
    nearTo(byUcum(7.25, metric, trade)).within(outOf(7.25));
  });

  it.each([-40, 0, 32, 327.46, 900, 1832])('%s °F and °C', (temperature) => {
    expect(units.celsiusFromFahrenheit(temperature)).toBeCloseTo(byUcum(temperature, '[degF]', 'Cel'), 9);
    expect(units.fahrenheitFromCelsius(temperature)).toBeCloseTo(byUcum(temperature, 'Cel', '[degF]'), 9);
  });
});

describe('conversions against printed tables', () => {
  // NIST Handbook 44 (2023), Appendix C, "Units of mass" and "Units of liquid volume".
  it('gives the figures of NIST Handbook 44, Appendix C', () => {
    expect(units.gramsFromTroyOunces(1)).toBe(31.1034768);
    expect(units.gramsFromPennyweights(1)).toBe(1.55517384);
    expect(units.milligramsFromGrains(1)).toBe(64.79891);
    expect(units.gramsFromPounds(1)).toBe(453.59237);
    expect(units.gramsFromAvoirdupoisOunces(1)).toBe(28.349523125);
    expect(units.kgFromShortTons(1)).toBe(907.18474);
    expect(units.kgFromLongTons(1)).toBe(1016.0469088);
    expect(units.litresFromUsGallons(1)).toBe(3.785411784);
    expect(units.poundsFromKg(1000)).toBeCloseTo(2204.622622, 6);
  });

  // NIST Special Publication 811 (2008), Appendix B.8: ton, assay (AT) = 2.916 667 E-02 kg.
  it('gives the assay ton of NIST SP 811, Appendix B.8', () => {
    expect(units.gramsFromAssayTons(1)).toBeCloseTo(29.16667, 5);
  });

  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: "the long ton contains 32,666.6 oz. troy",
  // the short ton 29,166.6.
  it('makes 1 mg of bead from one assay ton 1 troy ounce per ton', () => {
    expect(units.ozPerShortTonFromGpt(1000 / units.gramsPerAssayTon)).toBeCloseTo(1, 14);
    expect(units.ozPerLongTonFromGpt(1000 / units.gramsPerLongAssayTon)).toBeCloseTo(1, 14);
    expect(units.troyOuncesFromGrams(1000 * units.kgPerShortTon)).toBeCloseTo(29166 + 2 / 3, 8);
    expect(units.troyOuncesFromGrams(1000 * units.kgPerLongTon)).toBeCloseTo(32666 + 2 / 3, 8);
    expect(units.gptFromOzPerShortTon(1)).toBeCloseTo(34.2857, 4);
  });
});

describe('every conversion', () => {
  it('undoes its counterpart', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (x) => {
        for (const there of [
          units.ozPerShortTonFromGpt(units.gptFromOzPerShortTon(x)),
          units.assayTonsFromGrams(units.gramsFromAssayTons(x)),
          units.fahrenheitFromCelsius(units.celsiusFromFahrenheit(x)),
        ]) {
          expect(Math.abs(there - x)).toBeLessThanOrEqual(1e-12 * (Math.abs(x) + 100));
        }
      }),
    );
  });
});
