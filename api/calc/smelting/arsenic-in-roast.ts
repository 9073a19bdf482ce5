import type { Finding } from '../finding.ts';
import type { MineralShare } from './minerals.ts';
import { elementFractions } from './minerals.ts';
import { roastChange } from './roast.ts';

/** What is to be said before arsenopyrite is roasted; nothing where the lot has none. */
export function arsenicInRoast(minerals: readonly MineralShare[]): Finding[] {
  const arsenicFrac = elementFractions({ minerals }).As ?? 0;
  if (arsenicFrac === 0) return [];
  const fumeGPerKg = 1000 * roastChange({ minerals }).arsenicTrioxideFrac;
  return [
    {
      code: 'arsenic-in-roast',
      level: 'warning',
      path: '/minerals',
      sentence:
        `The lot holds ${(100 * arsenicFrac).toFixed(1)} % arsenic as arsenopyrite; roasted, each kilogram sends off ` +
        `about ${fumeGPerKg.toFixed(0)} g of arsenic trioxide, a deadly poison: do not roast it without professional ` +
        `control, or sell the concentrate.`,
    },
  ];
}
