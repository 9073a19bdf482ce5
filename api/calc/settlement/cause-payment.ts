import { percentText } from '../terms/payable-form.ts';
import type { Terms } from '../terms/terms.ts';
import { replaced, type Reading } from './hypothesis.ts';

/** Interest, royalties and advances reckoned otherwise. */
export function* paymentReadings(terms: Terms): Generator<Reading> {
  const { interest, royalties } = terms;
  if (interest !== null) {
    for (const dayCount of (['ACT/360', 'ACT/365', '30/360'] as const).filter(
      (d) => d !== interest.dayCount,
    )) {
      yield [
        'other-day-count',
        `They count the days of interest ${dayCount}, the contract ${interest.dayCount}.`,
        { interest: { ...interest, dayCount } },
      ];
    }
  }
  for (const [index, royalty] of royalties.entries()) {
    for (const kind of (['net-smelter-return', 'gross-value'] as const).filter(
      (k) => k !== royalty.base.kind,
    )) {
      const words = kind === 'gross-value' ? 'gross value' : 'net smelter return';
      const changed = { royalties: replaced(royalties, index, { ...royalty, base: { kind } }) };
      yield ['other-royalty-base', `They reckon ${royalty.name} on the ${words}.`, changed];
    }
    if (royalty.exemption !== null) {
      const changed = { royalties: replaced(royalties, index, { ...royalty, exemption: null }) };
      yield ['exemption-left-out', `They leave the exemption of ${royalty.name} out.`, changed];
    }
  }
  for (const stage of ['provisional', 'secondProvisional'] as const) {
    const advance = terms[stage];
    if (advance === null) continue;
    const of = advance.of === 'net-value' ? 'payable-value' : 'net-value';
    const words = of === 'net-value' ? 'net value' : 'payable value';
    yield [
      'other-advance-base',
      `They advance ${percentText(advance.shareFrac)} of the ${words}.`,
      { [stage]: { ...advance, of } },
    ];
    for (const shareFrac of ['0.75', '0.8', '0.85', '0.9', '0.95', '1']) {
      if (Number(shareFrac) === Number(advance.shareFrac)) continue;
      yield [
        'other-advance-share',
        `They advance ${percentText(shareFrac)}, the contract ${percentText(advance.shareFrac)}.`,
        { [stage]: { ...advance, shareFrac } },
      ];
    }
  }
}
