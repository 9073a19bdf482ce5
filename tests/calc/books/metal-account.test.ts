import { describe, expect, it } from 'vitest';
import { metalAccount } from '../../../api/calc/books/metal-account.ts';

const amount = (label: string, value: number, u = 0, sharesErrorWith?: string) => ({
  label,
  metalG: { value, u },
  ...(sharesErrorWith === undefined ? {} : { sharesErrorWith }),
});

describe('a period’s account of a metal', () => {
  it('gives the closure of a published locked-cycle balance', () => {
    // Pulacayo feasibility study (NI 43-101 technical report, 2013), p. 113: lead concentrate 3.1 % of the mass with
    // 10,891 g/t Ag at 63.4 % recovery, zinc concentrate 5 % with 3,303 g/t at 31.3 %; head 527.6 g/t by assay,
    // 532.5 g/t worked back from the products: 0.9 % closure.
    const leadConcentrate = 0.031 * 10_891;
    const zincConcentrate = 0.05 * 3_303;
    const tailings = 532.5 - leadConcentrate - zincConcentrate;
    const account = metalAccount({
      metal: 'silver',
      opening: [],
      received: [amount('feed of one tonne', 527.6)],
      released: [
        amount('lead concentrate', leadConcentrate),
        amount('zinc concentrate', zincConcentrate),
        amount('tailings', tailings),
      ],
      closing: [],
    });
    expect(account.unaccountedG.value).toBeCloseTo(4.9, 6);
    expect((account.unaccountedFrac ?? 0) * 100).toBeCloseTo(0.9, 1);
    expect(leadConcentrate / 532.5).toBeCloseTo(0.634, 3);
  });

  it('counts the error of an assay once where the same lot lies there at both ends', () => {
    const lying = amount('lot', 300, 12, 'assay of the lot');
    const account = metalAccount({
      metal: 'gold',
      opening: [lying],
      received: [],
      released: [],
      closing: [lying],
    });
    expect(account.unaccountedG).toEqual({ value: 0, u: 0 });
    const apart = metalAccount({
      metal: 'gold',
      opening: [amount('a', 300, 3)],
      received: [amount('b', 100, 4)],
      released: [],
      closing: [amount('c', 400, 12)],
    });
    expect(apart.unaccountedG.u).toBeCloseTo(13, 12);
  });

  it('says whether what is missing is more than scales and assays explain', () => {
    const missing = (g: number) =>
      metalAccount({
        metal: 'gold',
        opening: [],
        received: [amount('lot', 100, 3)],
        released: [amount('bar', 100 - g, 4)],
        closing: [],
      });
    // u is 5 g, twice that 10 g.
    expect(missing(9.9).moreThanExplained).toBe(false);
    expect(missing(10.1).findings[0]?.sentence).toContain('10.1 g of gold are missing');
    expect(missing(-10.1).findings[0]?.sentence).toContain('beyond what came in');
  });
});
