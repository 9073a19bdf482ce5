import type { EstimateDraws, ParcelDraws, Stretch } from './draw-columns.ts';
import { assayOf, estimateRoom, parcelOfDraws, priceOf } from './draw-columns.ts';
import { chargeClause, creditClause, penaltyClause, royaltyClause, type DrawClause } from './draw-clauses.ts';
import { levelGetter } from './estimate-clauses.ts';
import { compileEstimate } from './estimate.ts';
import { compileMetal, type CompiledMetal } from './estimate-metals.ts';
import { num, type EstimateParcel } from './estimate-parts.ts';
import { simpleMetal, type SimpleMetal } from './estimate-simple-metal.ts';
import { MOISTURE } from './term-units.ts';
import type { Terms } from './terms.ts';

/** So many draws are taken through a whole contract at a time: their columns stay in the processor's cache. */
const STRETCH = 2048;

/** Adds a metal that is paid plainly to a stretch of draws. */
function addSimpleMetal(
  metal: SimpleMetal,
  draws: ParcelDraws,
  { from, to, payable, charged, ones }: Stretch,
  ounces: Float64Array | null,
): void {
  const mass = metal.ofWetMass ? draws.wetMassKg : draws.dryMassKg;
  const assay = assayOf(draws, metal.symbol);
  const price = metal.fixedPrice === null ? priceOf(draws, metal.symbol) : null;
  const [masses, massStart] = mass.values === null ? [ones, 0] : [mass.values, from];
  const [assays, assayStart] = assay.values === null ? [ones, 0] : [assay.values, from];
  const quoted = price?.values ?? null;
  const [prices, priceStart] = quoted === null ? [ones, 0] : [quoted, from];
  const toMetal = mass.scale * metal.metalPerMassKg;
  const toGrade = assay.scale * metal.gradePerAssay;
  const toPrice = (price?.scale ?? metal.fixedPrice ?? Number.NaN) * metal.pricePaidFrac;
  const { slope, cut, otherSlope, otherCut, least, priceReduction, refining, toOzt } = metal;
  const count = to - from;
  for (let n = 0; n < count; n++) {
    const grade = toGrade * assays[assayStart + n]!;
    const first = slope * grade - cut;
    const other = otherSlope * grade - otherCut;
    const paid = other < first ? other : first;
    // Nothing below zero or the least grade; an assay that is not given stays not a number.
    if (grade < least || paid <= 0) {
      if (ounces !== null) ounces[from + n] = 0;
      continue;
    }
    const out = toMetal * masses[massStart + n]! * paid;
    if (out !== 0) payable[n]! += out * (toPrice * prices[priceStart + n]! - priceReduction);
    charged[n]! += out * refining;
    if (ounces !== null) ounces[from + n] = out * toOzt;
  }
}

/** Adds a metal with steps, bands or escalators, parcel by parcel. */
function addAnyMetal(
  metal: CompiledMetal,
  { parcel, at }: { parcel: EstimateParcel; at: (n: number) => void },
  { from, to, payable, charged }: Stretch,
  ounces: Float64Array | null,
): void {
  for (let n = from; n < to; n++) {
    at(n);
    const mass = metal.mass(parcel);
    if (ounces !== null) ounces[n] = mass * metal.toOzt;
    if (mass === 0) continue;
    payable[n - from]! += mass * metal.netPrice(parcel);
    charged[n - from]! += mass * metal.refining(parcel);
  }
}

function addPerMass(
  { wetRate, dryRate, least }: NonNullable<DrawClause['perMass']>,
  draws: ParcelDraws,
  { from, to, charged, ones }: Stretch,
): void {
  const [wet, wetStart] = draws.wetMassKg.values === null ? [ones, 0] : [draws.wetMassKg.values, from];
  const [dry, dryStart] = draws.dryMassKg.values === null ? [ones, 0] : [draws.dryMassKg.values, from];
  const perWet = wetRate * draws.wetMassKg.scale;
  const perDry = dryRate * draws.dryMassKg.scale;
  const count = to - from;
  for (let n = 0; n < count; n++) {
    const amount = perWet * wet[wetStart + n]! + perDry * dry[dryStart + n]!;
    charged[n]! += amount < least ? least : amount;
  }
}

/** Clauses that differ between draws, and the sum of those that do not. */
interface Parted {
  fixed: number;
  varying: { clause: DrawClause; moving: boolean }[];
}

function addClauses(
  { varying }: Parted,
  to: Float64Array,
  value: Float64Array,
  draws: ParcelDraws,
  run: { parcel: EstimateParcel; at: (n: number) => void; stretch: Stretch },
): void {
  const { parcel, at, stretch } = run;
  const count = stretch.to - stretch.from;
  for (const { clause, moving } of varying) {
    if (clause.perMass !== null) {
      addPerMass(clause.perMass, draws, stretch);
      continue;
    }
    for (let n = 0; n < count; n++) {
      if (moving) at(stretch.from + n);
      to[n]! += clause.amount(parcel, value[n]!, stretch.charged[n]!);
    }
  }
}

/** Brings a stretch together: charges at least the minimum, then penalties and credits that are the same in every draw. */
function addUp(
  { from, to, payable, charged }: Stretch,
  { paymentValue, netValue }: EstimateDraws,
  fixed: { penalties: number; credits: number },
): void {
  for (let n = from; n < to; n++) {
    const paid = payable[n - from]! + fixed.credits;
    const deducted = charged[n - from]! + fixed.penalties;
    payable[n - from] = paid;
    charged[n - from] = deducted;
    paymentValue[n] = paid;
    netValue[n] = paid - deducted;
  }
}

/** Draw by draw: for contracts with taxes of our own, which are reckoned on what all other clauses come to. */
function oneByOne(
  terms: Terms,
  exchangeRates: Record<string, number>,
): (draws: ParcelDraws, into?: EstimateDraws) => EstimateDraws {
  const estimate = compileEstimate(terms, { exchangeRates });
  return (draws, into = estimateRoom(draws.drawCount)) => {
    const { parcel, at } = parcelOfDraws(draws);
    let refused = 0;
    for (let n = 0; n < draws.drawCount; n++) {
      at(n);
      const one = estimate(parcel);
      into.goldPayableOzt[n] = one.goldPayableOzt;
      into.silverPayableOzt[n] = one.silverPayableOzt;
      into.paymentValue[n] = one.paymentValue;
      into.netValue[n] = one.netValue;
      if (one.refused) refused++;
    }
    into.refusedFrac = refused / draws.drawCount;
    return into;
  };
}

/**
 * Compiles a contract for all draws of a simulation at once: the same figures as
 * `compileEstimate` draw by draw, but each clause goes over a stretch of draws before the next, and what is the
 * same in every draw (a charge on a known mass, a penalty on a known assay) is worked out once.
 */
export function compileEstimateDraws(
  terms: Terms,
  { exchangeRates = {} }: { exchangeRates?: Record<string, number> } = {},
): (draws: ParcelDraws, into?: EstimateDraws) => EstimateDraws {
  if ((terms.taxes ?? []).some((tax) => !tax.isPassedOn)) return oneByOne(terms, exchangeRates);
  const metals = terms.metals.map((metal) => ({
    any: compileMetal(terms, metal),
    simple: simpleMetal(terms, metal),
  }));
  const compiled = metals.map(({ any }) => any);
  const charges = terms.charges.map((charge) => chargeClause(terms, charge, exchangeRates));
  const penalties = terms.penalties.map((penalty) => penaltyClause(terms, penalty));
  const credits = terms.credits.map((credit) => creditClause(terms, credit));
  const royalties = terms.royalties
    .filter((royalty) => royalty.paidBy === 'buyer-withholds')
    .map((royalty) => royaltyClause(terms, royalty, compiled));
  const refusals = terms.penalties.flatMap((clause) =>
    clause.refusedAbove === null
      ? []
      : [{ level: levelGetter(terms, clause), elements: clause.elements, above: num(clause.refusedAbove) }],
  );
  const minimum = terms.minimumCharges === null ? -Infinity : num(terms.minimumCharges);
  const column = () => new Float64Array(STRETCH);
  const stretch: Stretch = {
    from: 0,
    to: 0,
    payable: column(),
    charged: column(),
    ones: column().fill(1),
  };
  const withheld = column();

  return (draws, into = estimateRoom(draws.drawCount)) => {
    const { drawCount } = draws;
    const { parcel, at } = parcelOfDraws(draws);
    const massVaries = draws.wetMassKg.values !== null || draws.dryMassKg.values !== null;
    const priceVaries = Object.values(draws.prices).some(({ values }) => values !== null);
    const assayVaries = (element: string) =>
      element === MOISTURE ? massVaries : assayOf(draws, element).values !== null;
    const varies = ({ uses }: DrawClause) =>
      (uses.mass && massVaries) || (uses.prices && priceVaries) || uses.assays.some(assayVaries);
    at(0);
    const part = (clauses: readonly DrawClause[]): Parted => {
      let fixed = 0;
      const varying = clauses.flatMap((clause) => {
        const moving = varies(clause);
        if (moving || clause.uses.value) return [{ clause, moving }];
        fixed += clause.amount(parcel, 0, 0);
        return [];
      });
      return { fixed, varying };
    };
    const [charge, penalty, credit, royalty] = [charges, penalties, credits, royalties].map(part) as [
      Parted,
      Parted,
      Parted,
      Parted,
    ];
    const isRefused = () => refusals.some(({ level, above }) => level(parcel) > above);
    const refusalVaries = refusals.some(({ elements }) => elements.some(assayVaries));
    let refused = !refusalVaries && isRefused() ? drawCount : 0;
    const { payable, charged } = stretch;
    const run = { parcel, at, stretch };

    for (let from = 0; from < drawCount; from += STRETCH) {
      const to = Math.min(drawCount, from + STRETCH);
      const count = to - from;
      stretch.from = from;
      stretch.to = to;
      payable.fill(0);
      charged.fill(charge.fixed);
      for (const { any, simple } of metals) {
        const ounces =
          any.symbol === 'Au' ? into.goldPayableOzt : any.symbol === 'Ag' ? into.silverPayableOzt : null;
        if (simple === null) addAnyMetal(any, run, stretch, ounces);
        else addSimpleMetal(simple, draws, stretch, ounces);
      }
      addClauses(charge, charged, payable, draws, run);
      if (minimum > -Infinity)
        for (let n = 0; n < count; n++) if (charged[n]! < minimum) charged[n] = minimum;
      addClauses(penalty, charged, payable, draws, run);
      // A credit is reckoned on metal and mass, never on what is paid: it may join at once.
      addClauses(credit, payable, payable, draws, run);
      addUp(stretch, into, { penalties: penalty.fixed, credits: credit.fixed });
      if (royalties.length > 0) {
        withheld.fill(royalty.fixed);
        addClauses(royalty, withheld, payable, draws, run);
        for (let n = 0; n < count; n++) into.netValue[from + n]! -= withheld[n]!;
      }
      if (refusalVaries)
        for (let n = from; n < to; n++) {
          at(n);
          if (isRefused()) refused++;
        }
    }
    for (const [symbol, ounces] of [
      ['Au', into.goldPayableOzt],
      ['Ag', into.silverPayableOzt],
    ] as const)
      if (!compiled.some((metal) => metal.symbol === symbol)) ounces.fill(0);
    into.refusedFrac = refused / drawCount;
    return into;
  };
}
