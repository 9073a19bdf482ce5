import { Dec, grouped, sumOf } from '../money.ts';
import type { Credit, Ladder, Penalty } from '../terms/charge-terms.ts';
import { conversionText, convert, gradeConversion, metalConversion } from '../terms/conversion.ts';
import { ladderRate } from '../terms/ladder.ts';
import { percentText } from '../terms/payable-form.ts';
import type { GradeUnit, MassBasis, MassUnit } from '../terms/term-units.ts';
import { figure, shown, type Figure } from './figure.ts';
import { quotedPrice } from './quoted-price.ts';
import { addLine, addProductLine, massFor, rateOf, slug, warning, type SettlementRun } from './run.ts';
import type { SettlementSection } from './statement.ts';

interface OnElements {
  id: string;
  path: string;
  section: 'penalties' | 'credits';
  name: string;
  elements: string[];
  unit: GradeUnit;
  ladder: Ladder;
  basis: MassBasis;
  massUnit: MassUnit;
}

/** A clause with its place on the statement: written out, which is quicker than copying a clause of many kinds. */
function onElements(
  clause: Penalty | Extract<Credit, { kind: 'component' }>,
  { id, path, section }: Pick<OnElements, 'id' | 'path' | 'section'>,
): OnElements {
  const { name, elements, unit, ladder, basis, massUnit } = clause;
  return { id, path, section, name, elements, unit, ladder, basis, massUnit };
}

/** Penalties for unwanted elements, singly or on the sum of several, with the refusal level. */
export function workPenalties(run: SettlementRun): void {
  run.terms.penalties.forEach((penalty, index) => {
    const id = unusedId(run, `penalties/${penalty.elements.join('+')}`);
    const path = `/terms/penalties/${index}`;
    const level = workLadder(run, onElements(penalty, { id, path, section: 'penalties' }));
    if (level !== null) checkRefusal(run, penalty, level, path);
  });
}

function checkRefusal(run: SettlementRun, penalty: Penalty, level: Figure, path: string) {
  if (penalty.refusedAbove === null || level.value.lte(penalty.refusedAbove)) return;
  warning(
    run,
    'above-refusal-level',
    path,
    `${penalty.name}: ${shown(level)} is above ${penalty.refusedAbove}, from where the buyer may refuse the parcel. The total is what the contract comes to if the buyer accepts it; have the acceptance in writing, and enter what is allowed for it as an agreed item.`,
  );
}

/** Credits: wanted components, amounts per mass, and shares of the assay value. */
export function workCredits(run: SettlementRun): void {
  run.terms.credits.forEach((credit, index) => {
    const id = unusedId(run, `credits/${slug(credit.name)}`);
    const path = `/terms/credits/${index}`;
    if (credit.kind === 'component') {
      workLadder(run, onElements(credit, { id, path, section: 'credits' }));
    } else if (credit.kind === 'per-mass') {
      const mass = massFor(run, credit.basis, credit.massUnit, path);
      if (mass === null) return;
      massLine(run, {
        id,
        section: 'credits',
        name: credit.name,
        basis: credit.basis,
        mass,
        rate: rateOf(run, credit.rate, credit.massUnit),
      });
    } else {
      workAssayValue(run, credit, id, path);
    }
  });
}

function unusedId(run: SettlementRun, id: string): string {
  const again = run.lines.filter((line) => line.id === id || line.id.startsWith(`${id}#`)).length;
  return again === 0 ? id : `${id}#${again + 1}`;
}

function massLine(
  run: SettlementRun,
  line: {
    id: string;
    section: 'penalties' | 'credits';
    name: string;
    basis: MassBasis;
    mass: Figure;
    rate: Figure;
  },
) {
  const { valuation } = run.terms;
  const sign = line.section === 'penalties' ? -1 : 1;
  if (line.basis === 'settlement' && valuation.kind === 'per-tonne' && line.mass.unit === valuation.unit) {
    run.perTonneRates.push(line.rate.value.times(sign));
  }
  addProductLine(run, {
    id: line.id,
    section: line.section,
    label: line.name,
    sign,
    quantity: line.mass,
    rate: line.rate,
  });
}

/** Level of the elements together, the rate it gives, and the money; returns the level. */
function workLadder(run: SettlementRun, clause: OnElements): Figure | null {
  const assays = clause.elements.map((element) => run.assays.get(element));
  const known = assays.filter((assay) => assay !== undefined);
  if (known.length < assays.length) return null;
  const level = levelOf(run, clause, known);
  const { rate, expression } = ladderRate(clause.ladder, level.text);
  const perMass = figure(rate, run.terms.rounding.perTonneValue, `${run.terms.currency}/${clause.massUnit}`);
  addLine(run, {
    id: `${clause.id}/rate`,
    section: clause.section,
    label: `${clause.name}: rate at ${shown(level)}`,
    working: `${expression === '0' ? 'no level is reached: ' : ''}${expression} = ${shown(perMass)}`,
    quantity: level,
    result: perMass,
  });
  const mass = massFor(run, clause.basis, clause.massUnit, clause.path);
  if (mass !== null) {
    const { id, section, name, basis } = clause;
    massLine(run, { id, section, name, basis, mass, rate: perMass });
  }
  return level;
}

/** The assays of a clause's elements together, in its unit; a line where that takes a sum or a conversion. */
export function levelOf(
  run: SettlementRun,
  clause: Pick<OnElements, 'id' | 'name' | 'elements' | 'unit'> & { section: SettlementSection },
  assays: Figure[],
): Figure {
  const only = assays[0] as Figure;
  if (assays.length === 1 && only.unit === clause.unit) return only;
  const parts = assays.map((assay) => {
    const conversion = gradeConversion(assay.unit as GradeUnit, clause.unit);
    const value = convert(assay.value, conversion, run.terms.factors);
    return { value, text: `${grouped(assay.text)}${conversionText(conversion, run.terms.factors)}` };
  });
  const sum = sumOf(parts.map((part) => part.value));
  const level = figure(sum, run.terms.rounding.payableGrade, clause.unit);
  addLine(run, {
    id: `${clause.id}/level`,
    section: clause.section,
    label: `${clause.name}: ${clause.elements.join(' + ')}`,
    working: `${parts.map((part) => part.text).join(' + ')} = ${shown(level)}`,
    result: level,
  });
  return level;
}

function workAssayValue(
  run: SettlementRun,
  credit: Extract<Credit, { kind: 'assay-value' }>,
  id: string,
  path: string,
) {
  const values: Figure[] = [];
  for (const metal of credit.metals) {
    const assay = run.assays.get(metal);
    const price = quotedPrice(run, metal);
    const unit = run.terms.metals.find((m) => m.metal === metal)?.price.unit;
    if (assay === undefined || price === null || unit === undefined) return;
    const conversion = metalConversion(credit.massUnit, assay.unit as GradeUnit, unit);
    const exact = convert(assay.value.times(price.value), conversion, run.terms.factors);
    const value = figure(exact, run.terms.rounding.perTonneValue, `${run.terms.currency}/${credit.massUnit}`);
    const signs = assay.unit === 'percent' ? 1 : 0;
    addLine(run, {
      id: `${id}/${metal}`,
      section: 'credits',
      label: `${credit.name}: ${metal} contained per ${credit.massUnit}`,
      working: `${shown(assay)}${conversionText(conversion, run.terms.factors, signs)} × ${shown(price)} = ${shown(value)}`,
      quantity: assay,
      rate: price,
      result: value,
    });
    values.push(value);
  }
  const sum = sumOf(values.map((value) => value.value));
  const above = Dec.max(0, sum.minus(credit.above)).times(credit.shareFrac);
  const rate = figure(above, run.terms.rounding.perTonneValue, `${run.terms.currency}/${credit.massUnit}`);
  const total = values.map((value) => grouped(value.text)).join(' + ');
  addLine(run, {
    id: `${id}/rate`,
    section: 'credits',
    label: `${credit.name}: ${percentText(credit.shareFrac)} of the value above ${grouped(credit.above)}`,
    working: `greater of 0 and (${total} − ${grouped(credit.above)}) × ${percentText(credit.shareFrac)} = ${shown(rate)}`,
    result: rate,
  });
  const mass = massFor(run, 'settlement', credit.massUnit, path);
  if (mass === null) return;
  massLine(run, { id, section: 'credits', name: credit.name, basis: 'settlement', mass, rate });
}
