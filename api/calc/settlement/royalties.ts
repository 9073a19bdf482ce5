import { allocate, Dec, grouped, type DecimalNumber } from '../money.ts';
import type { Royalty } from '../terms/charge-terms.ts';
import { conversionText, convert, metalConversion } from '../terms/conversion.ts';
import { percentText } from '../terms/payable-form.ts';
import type { GradeUnit, MassUnit } from '../terms/term-units.ts';
import { bare, figure, given, shown, type Figure } from './figure.ts';
import { payableValue } from './payable-value.ts';
import { quotedPrice } from './quoted-price.ts';
import { addLine, amountsIn, money, note, slug, type SettlementRun } from './run.ts';

/** Royalties and production taxes, each on its own base, with exemption, bands and payees. */
export function workRoyalties(run: SettlementRun): void {
  for (const royalty of run.terms.royalties) {
    const base = royaltyBase(run, royalty);
    if (base !== null) workRoyalty(run, royalty, base);
  }
}

/** By its name; a second name that comes to the same letters gets its place in the contract behind it. */
function royaltyId({ terms }: SettlementRun, royalty: Royalty): string {
  const own = slug(royalty.name);
  const first = terms.royalties.find((one) => slug(one.name) === own);
  return first === royalty ? `royalties/${own}` : `royalties/${own}-${terms.royalties.indexOf(royalty) + 1}`;
}

function royaltyBase(run: SettlementRun, royalty: Royalty): Figure | null {
  const base = royalty.base;
  const id = `${royaltyId(run, royalty)}/base`;
  if (base.kind === 'own-price') return ownPriceBase(run, royalty);
  const value = payableValue(run);
  if (value === null) return null;
  const parts: [string, DecimalNumber][] = [
    ['payable', value],
    ['credits', amountsIn(run, 'credits')],
  ];
  if (base.kind === 'net-smelter-return') {
    parts.push(['charges', amountsIn(run, 'charges')], ['penalties', amountsIn(run, 'penalties')]);
  }
  const total = money(
    run,
    parts.reduce((sum, [, part]) => sum.plus(part), new Dec(0)),
  );
  const shownParts = parts
    .filter(([name, part]) => name === 'payable' || !part.isZero())
    .map(
      ([name, part], index) =>
        `${index === 0 ? '' : part.isNegative() ? ' − ' : ' + '}${bare(money(run, index === 0 ? part : part.abs()))} ${name}`,
    );
  addLine(run, {
    id,
    section: 'royalties',
    label: `${royalty.name}: base, ${base.kind === 'gross-value' ? 'gross value' : 'net smelter return'}`,
    working: `${shownParts.join('')} = ${shown(total)}`,
    result: total,
  });
  return total;
}

function ownPriceBase(run: SettlementRun, royalty: Royalty): Figure | null {
  if (royalty.base.kind !== 'own-price') return null;
  const mass = run.masses.settlement;
  if (mass === undefined) return null;
  const id = `${royaltyId(run, royalty)}/base`;
  const values: Figure[] = [];
  for (const entry of royalty.base.metals) {
    const terms = run.terms.metals.find((m) => m.metal === entry.metal);
    const assay = run.assays.get(entry.metal);
    const payable = run.payables.get(entry.metal);
    if (terms === undefined || assay === undefined) return null;
    const { unit } = terms.price;
    const price =
      entry.price === null
        ? quotedPrice(run, entry.metal)
        : given(entry.price, `${run.terms.currency}/${unit}`);
    if (price === null) return null;
    let metal: Figure;
    if (entry.mass === 'payable') {
      if (payable === undefined) return null;
      metal = payable.mass;
    } else {
      const conversion = metalConversion(mass.unit as MassUnit, assay.unit as GradeUnit, unit);
      metal = figure(
        convert(mass.value.times(assay.value), conversion, run.terms.factors),
        terms.rounding ?? run.terms.rounding.payableMetal,
        unit,
      );
      addLine(run, {
        id: `${id}/${entry.metal}-contained`,
        section: 'royalties',
        label: `${royalty.name}: ${entry.metal} contained`,
        working: `${shown(mass)} × ${shown(assay)}${conversionText(conversion, run.terms.factors, assay.unit === 'percent' ? 1 : 0)} = ${shown(metal)}`,
        quantity: mass,
        rate: assay,
        result: metal,
      });
    }
    const value = money(run, metal.value.times(price.value));
    addLine(run, {
      id: `${id}/${entry.metal}`,
      section: 'royalties',
      label: `${royalty.name}: value of ${entry.metal} ${entry.mass}`,
      working: `${shown(metal)} × ${shown(price)} = ${shown(value)}`,
      quantity: metal,
      rate: price,
      result: value,
    });
    values.push(value);
  }
  const total = money(
    run,
    values.reduce((sum, value) => sum.plus(value.value), new Dec(0)),
  );
  addLine(run, {
    id,
    section: 'royalties',
    label: `${royalty.name}: base, at its own price`,
    working: `${values.map(bare).join(' + ')} = ${shown(total)}`,
    result: total,
  });
  return total;
}

/** Due on a base reached in all, with the arithmetic: exemption first, then the rate. */
function dueOn(
  run: SettlementRun,
  royalty: Royalty,
  base: DecimalNumber,
): { due: DecimalNumber; expression: string } | null {
  const nothing = { due: new Dec(0), expression: '0' };
  if (base.lte(0)) return nothing;
  const exempt = royalty.exemption ?? '0';
  const taxed = Dec.max(0, base.minus(exempt));
  if (taxed.isZero()) return nothing;
  const taxedText =
    royalty.exemption === null || new Dec(exempt).isZero()
      ? grouped(base.toFixed())
      : `(${grouped(base.toFixed())} − ${grouped(exempt)})`;
  if (royalty.rate.kind === 'bands') {
    let due = new Dec(0);
    const parts: string[] = [];
    const { bands } = royalty.rate;
    bands.forEach((band, index) => {
      const next = bands[index + 1];
      const end = next === undefined ? taxed : Dec.min(taxed, next.from);
      if (end.lte(band.from)) return;
      due = due.plus(end.minus(band.from).times(band.rateFrac));
      parts.push(`(${grouped(end.toFixed())} − ${grouped(band.from)}) × ${percentText(band.rateFrac)}`);
    });
    return parts.length === 0 ? nothing : { due, expression: parts.join(' + ') };
  }
  let rateFrac = '0';
  if (royalty.rate.kind === 'flat') {
    rateFrac = royalty.rate.rateFrac;
  } else {
    const price = quotedPrice(run, royalty.rate.metal);
    if (price === null) return null;
    rateFrac = royalty.rate.steps.filter((step) => price.value.gte(step.from)).at(-1)?.rateFrac ?? '0';
  }
  return { due: taxed.times(rateFrac), expression: `${taxedText} × ${percentText(rateFrac)}` };
}

function workRoyalty(run: SettlementRun, royalty: Royalty, base: Figure) {
  const id = royaltyId(run, royalty);
  const earlier = new Dec(
    run.input.royaltyBasesToDate?.find((entry) => entry.name === royalty.name)?.amount ?? 0,
  );
  const counted = royalty.exemption !== null || royalty.rate.kind === 'bands';
  const before = counted ? dueOn(run, royalty, earlier) : { due: new Dec(0), expression: '0' };
  const after = dueOn(run, royalty, counted ? earlier.plus(base.value) : base.value);
  if (before === null || after === null) return;
  if (base.value.lt(0)) {
    note(
      run,
      'royalty-base-below-zero',
      '/terms/royalties',
      `${royalty.name}: the base of ${shown(base)} is below zero; it counts as nothing on this statement.`,
    );
  }
  const exact = base.value.lt(0) ? new Dec(0) : after.due.minus(before.due);
  const due = money(run, exact);
  const withheld = royalty.paidBy === 'buyer-withholds';
  const expression = base.value.lt(0)
    ? '0'
    : before.due.isZero()
      ? after.expression
      : `${after.expression} − (${before.expression})`;
  const divided = royalty.payees.length > 0;
  addLine(run, {
    id,
    section: 'royalties',
    label: withheld ? royalty.name : `${royalty.name} (due from the seller, not deducted here)`,
    working: `${expression} = ${shown(due)}`,
    quantity: base,
    result: divided || !withheld ? due : null,
    amount: withheld && !divided ? due.value.neg() : null,
  });
  if (divided) payeeLines(run, royalty, due, withheld);
}

function payeeLines(run: SettlementRun, royalty: Royalty, due: Figure, withheld: boolean) {
  const shares = royalty.payees.map((payee) => new Dec(payee.share));
  const parts = allocate({ amount: due.value, shares, decimals: run.terms.rounding.money.decimals });
  const whole = shares.reduce((sum, share) => sum.plus(share), new Dec(0)).toFixed();
  royalty.payees.forEach((payee, index) => {
    const part = money(run, parts[index] ?? new Dec(0));
    const last = index === royalty.payees.length - 1;
    const others = parts.slice(0, -1).map((other) => grouped(money(run, other).text));
    const working = last
      ? `${[shown(due), ...others].join(' − ')} = ${shown(part)}`
      : `cents cut off: ${shown(due)} × ${grouped(payee.share)} ÷ ${grouped(whole)} = ${shown(part)}`;
    addLine(run, {
      id: `${royaltyId(run, royalty)}/${index + 1}`,
      section: 'royalties',
      label: `${royalty.name}: ${payee.name}`,
      working,
      quantity: due,
      result: withheld ? null : part,
      amount: withheld ? part.value.neg() : null,
    });
  });
}
