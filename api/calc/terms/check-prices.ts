import type { Say } from './check-terms.ts';
import type { MetalTerms, QuotationalPeriod } from './metal-terms.ts';

/** The price of a metal: fractions, reductions, floor and cap, periods. */
export function checkPrice(metal: MetalTerms, path: string, say: Say) {
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
  const quoted = price.basis.kind === 'choice' ? price.basis.options : [price.basis];
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

function checkPeriod(metal: string, period: QuotationalPeriod, path: string, say: Say) {
  const backwards =
    (period.kind === 'business-days' || period.kind === 'calendar-days' || period.kind === 'dates') &&
    period.from > period.to;
  if (backwards) {
    say('blocker', 'period-backwards', path, `The quotational period of ${metal} ends before it begins.`);
  }
}
