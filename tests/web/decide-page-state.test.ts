import { describe, expect, it } from 'vitest';
import { assumptions } from '../../api/schemas/decision.ts';
import { USUAL_INQUIRY_COSTS } from '../../api/calc/facts/inquiries.ts';
import { readCosts, readKept, startingPage, whatIfOf, writeKept } from '../../web/pages/decide/page-state.ts';
import { whatIsChanged } from '../../web/pages/decide/what-if-words.ts';
import { readWhatIf, startingWhatIf, writeWhatIf } from '../../web/pages/decide/what-if.ts';

const point = { decimalComma: false };

describe('the costs of finding out', () => {
  it('start from what is usual', () => {
    expect(readCosts(startingPage, point)).toEqual(USUAL_INQUIRY_COSTS);
  });

  it('are read as typed, nothing typed being nothing', () => {
    const typed = { ...startingPage, assayCost: '72,5', smeltCost: '' };
    expect(readCosts(typed, { decimalComma: true })).toMatchObject({ labAssay: 72.5, testSmelt: 0 });
  });

  it('are not guessed', () => {
    expect(readCosts({ ...startingPage, assayCost: '1,000' }, point)).toBeNull();
    expect(readCosts({ ...startingPage, roastCost: '-5' }, point)).toBeNull();
  });
});

describe('kept what-ifs', () => {
  const present = { ...startingWhatIf, lot: 'some-lot', on: '2026-06-05', gold: '2,000.5', wage: '30' };

  it('come back from the address as they were kept, without lot and day', () => {
    const kept = readKept(writeKept('Low gold & dear = wage', present));
    const { lot: _lot, on: _on, ...whatIf } = present;
    expect(kept).toEqual({ name: 'Low gold & dear = wage', whatIf });
  });

  it('are none where the address holds none', () => {
    expect(readKept('')).toBeNull();
  });

  it('say in words what they change', () => {
    const { whatIf } = readKept(writeKept('x', present))!;
    expect(whatIsChanged(whatIf, { currency: 'USD', massUnit: 'kg' })).toBe(
      'gold 2,000.5 USD/ozt; wage 30 USD/h',
    );
    const unchanged = readKept(writeKept('x', startingWhatIf))!.whatIf;
    expect(whatIsChanged(unchanged, { currency: 'USD', massUnit: 'kg' })).toBe('nothing: as the records say');
  });

  it('leave the what-if of the page alone', () => {
    expect(whatIfOf({ ...startingPage, ...present, kept1: writeKept('x', present) })).toEqual(present);
  });
});

describe('assumptions written as they would be typed', () => {
  it.each([{ decimalComma: false }, { decimalComma: true }])('are read back the same (%o)', (options) => {
    const assumed = assumptions.parse({
      goldPricePerOzt: 2000.5,
      wagePerHour: 31.25,
      fuelPriceFactor: 1.1,
      reagentPriceFactor: 0.07,
      goldRecoveryShiftFrac: -0.029,
      saleFreightAndAssays: 240,
    });
    expect(readWhatIf(writeWhatIf(assumed, options), options)).toEqual(assumed);
  });

  it('are empty where they are as the records say', () => {
    expect(writeWhatIf(assumptions.parse({}), point)).toEqual(startingWhatIf);
  });
});
