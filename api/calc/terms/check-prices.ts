import { rises } from './check-levels.ts';
import type { Say } from './check-terms.ts';
import type { MetalTerms, PriceBasis, QuotationalPeriod } from './metal-terms.ts';
import { quotedBases } from './price-bases.ts';
import type { Terms } from './terms.ts';

/** The price of a metal: fractions, reductions, floor and cap, periods. */
export function checkPrice(terms: Terms, metal: MetalTerms, path: string, say: Say) {
  const { price } = metal;
  const fraction = Number(price.paidFrac);
  if (fraction <= 0 || fraction > 1) {
    say(
      'blocker',
      'price-fraction-out-of-range',
      `${path}/price/paidFrac`,
      `${price.paidFrac} of the price of ${metal.metal} is paid; a fraction above 0 and up to 1 is right.`,
    );
  }
  const { floor = null, cap = null } = price;
  if (floor !== null && cap !== null && Number(floor) > Number(cap)) {
    say(
      'blocker',
      'floor-above-cap',
      `${path}/price`,
      `The floor of the ${metal.metal} price, ${floor}, is above its cap, ${cap}.`,
    );
  }
  if (price.basis.kind === 'fixed') {
    const off = Number(price.reduction) + (metal.refining === null ? 0 : Number(metal.refining.rate));
    if (Number(price.basis.price) * fraction <= off) {
      say(
        'warning',
        'price-below-reductions',
        `${path}/price`,
        `The fixed price of ${metal.metal}, ${price.basis.price}, does not cover its reductions of ${off}.`,
      );
    }
    return;
  }
  if (price.basis.kind === 'by-grade') {
    checkGradePrices(terms, metal, price.basis, `${path}/price`, say);
    return;
  }
  const quoted = quotedBases(price.basis);
  if (price.basis.kind === 'choice' && quoted.length < 2) {
    say(
      'warning',
      'one-option-only',
      `${path}/price/basis/options`,
      `The price of ${metal.metal} is to be chosen, but there is only one to choose from.`,
    );
  }
  quoted.forEach(({ period }, index) => {
    const at = price.basis.kind === 'choice' ? `options/${index}/period` : 'period';
    checkPeriod(metal.metal, period, `${path}/price/basis/${at}`, say);
  });
}

function followsPriceOf({ metals, charges, royalties }: Terms, symbol: string): boolean {
  const escalators = [
    ...metals.flatMap(({ refining }) => refining?.escalators ?? []),
    ...charges.flatMap((charge) => (charge.kind === 'per-mass' ? charge.escalators : [])),
  ];
  return (
    escalators.some(({ metal }) => metal === symbol) ||
    charges.some(
      (charge) =>
        charge.kind === 'by-level' && charge.level.kind === 'price' && charge.level.metal === symbol,
    ) ||
    royalties.some(({ rate }) => rate.kind === 'price-steps' && rate.metal === symbol)
  );
}

/** Steps in order and in the contract's currency; a step where richer material earns less is named. */
function checkGradePrices(
  terms: Terms,
  { metal, price }: MetalTerms,
  { steps }: Extract<PriceBasis, { kind: 'by-grade' }>,
  path: string,
  say: Say,
) {
  if (!rises(steps.map((step) => step.fromGrade)))
    say(
      'blocker',
      'levels-not-rising',
      `${path}/basis/steps`,
      `The prices of ${metal} must begin at rising grades.`,
    );
  if (price.currency !== null && price.currency !== terms.currency)
    say(
      'blocker',
      'grade-price-in-other-currency',
      `${path}/currency`,
      `${metal} is priced by its grade, which the contract fixes in ${terms.currency}; leave the other currency empty.`,
    );
  if (followsPriceOf(terms, metal))
    say(
      'note',
      'step-pays-less',
      `${path}/basis`,
      `A charge, an escalator or a royalty goes by the price of ${metal}, which moves by steps of its grade: somewhat richer material may earn less.`,
    );
  steps.forEach((step, index) => {
    if (Number(step.price) >= Number(steps[index - 1]?.price ?? 0)) return;
    say(
      'note',
      'step-pays-less',
      `${path}/basis/steps/${index}`,
      `From ${step.fromGrade} the price of ${metal} falls to ${step.price}: richer material earns less there.`,
    );
  });
}

function checkPeriod(metal: string, period: QuotationalPeriod, path: string, say: Say) {
  const backwards =
    (period.kind === 'business-days' || period.kind === 'calendar-days' || period.kind === 'dates') &&
    period.from > period.to;
  if (backwards) {
    say('blocker', 'period-backwards', path, `The quotational period of ${metal} ends before it begins.`);
  }
}
