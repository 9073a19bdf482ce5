import { Dec, grouped, sumOf } from '../money.ts';
import type { MetalTerms } from '../terms/metal-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import { escalated } from './escalators.ts';
import { bare, figure, given, shown, type Figure } from './figure.ts';
import { quotedPrice } from './quoted-price.ts';
import { addLine, rateOf, warning, type SettlementRun } from './run.ts';

/** The price paid for a unit of payable metal: quoted × part paid − reduction − refining charge where it is a reduction. */
export function netPrice(run: SettlementRun, metal: MetalTerms): Figure | null {
  const market = quotedPrice(run, metal.metal);
  if (market === null) return null;
  const { price, refining } = metal;
  const quoted = withinLimits(run, metal, market);
  const refiningRate =
    refining !== null && refining.kind === 'price-reduction' ? refiningRateOf(run, metal) : null;
  if (refining?.kind === 'price-reduction' && refiningRate === null) return null;
  const parts = [
    new Dec(price.paidFrac).eq(1) ? bare(quoted) : `${bare(quoted)} × ${percentText(price.paidFrac)}`,
    ...(new Dec(price.reduction).isZero() ? [] : [grouped(price.reduction)]),
    ...(refiningRate === null ? [] : [bare(refiningRate)]),
  ];
  if (parts.length === 1 && new Dec(price.paidFrac).eq(1)) return quoted;
  const value = quoted.value
    .times(price.paidFrac)
    .minus(price.reduction)
    .minus(refiningRate?.value ?? 0);
  const net = figure(value, run.terms.rounding.price, quoted.unit);
  addLine(run, {
    id: `prices/${metal.metal}/net`,
    section: 'prices',
    label: `${metal.metal}, price paid`,
    working: `${parts.join(' − ')} = ${shown(net)}`,
    quantity: quoted,
    result: net,
  });
  if (net.value.lt(0)) {
    warning(
      run,
      'net-price-below-zero',
      '/prices',
      `${metal.metal}: the reductions are more than the price, ${shown(net)} is left.`,
    );
  }
  return net;
}

/** The quoted price, no less than the contract's floor and no more than its cap; a line where one binds. */
function withinLimits(run: SettlementRun, { metal, price }: MetalTerms, quoted: Figure): Figure {
  const { floor = null, cap = null } = price;
  const binds =
    floor !== null && quoted.value.lt(floor)
      ? { text: floor, words: 'greater of', name: 'floor' }
      : cap !== null && quoted.value.gt(cap)
        ? { text: cap, words: 'lesser of', name: 'cap' }
        : null;
  if (binds === null) return quoted;
  const limited = given(binds.text, quoted.unit);
  const id = `prices/${metal}/${binds.name}`;
  if (!run.lines.some((line) => line.id === id))
    addLine(run, {
      id,
      section: 'prices',
      label: `${metal}, ${binds.name} of the price`,
      working: `${binds.words} ${bare(quoted)} and ${grouped(binds.text)} = ${shown(limited)}`,
      quantity: quoted,
      result: limited,
    });
  return limited;
}

/** Refining charge per unit of payable metal after its escalators. */
export function refiningRateOf(run: SettlementRun, metal: MetalTerms): Figure | null {
  const { refining } = metal;
  if (refining === null) return null;
  const base = rateOf(run, refining.rate, metal.price.unit);
  const changes = refining.escalators.map((escalator) => escalated(run, escalator, metal.price.unit));
  if (changes.length === 0) return base;
  const known = changes.filter((change) => change !== null);
  if (known.length < changes.length) return null;
  const rate = figure(
    base.value.plus(sumOf(known.map((change) => change.value))),
    run.terms.rounding.price,
    base.unit,
  );
  addLine(run, {
    id: `prices/${metal.metal}/refining`,
    section: 'prices',
    label: `${metal.metal}, refining charge after escalation`,
    working: `${[base, ...known].map(bare).join(' + ').replaceAll('+ −', '− ')} = ${shown(rate)}`,
    result: rate,
  });
  return rate;
}
