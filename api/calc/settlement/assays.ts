import { Dec, grouped, sumOf } from '../money.ts';
import { settleAssay, type AssayResults } from '../terms/assay-exchange.ts';
import type { AssayRule } from '../terms/assay-terms.ts';
import { conversionText, convert, gradeConversion } from '../terms/conversion.ts';
import { bare, figure, given, shown, type Figure } from './figure.ts';
import type { AssayInput } from './input.ts';
import { preparedTerms } from './prepared-terms.ts';
import { addLine, blocker, note, type SettlementRun } from './run.ts';

/**
 * Settles the assay of every element a clause needs, per sublot or bar where results
 * are given so, and then the mean weighted by dry mass (mass of record for bars).
 */
export function workAssays(run: SettlementRun): void {
  for (const element of preparedTerms(run.terms).elements) {
    const rule = run.terms.assays.find((r) => r.element === element);
    if (rule === undefined) {
      blocker(
        run,
        'no-assay-rule',
        '/terms/assays',
        `The contract needs the assay of ${element} but does not say in what unit it is settled.`,
      );
      continue;
    }
    const inputs = run.input.assays.filter((a) => a.element === element);
    const ofPieces = inputs.filter((a) => a.sublot !== undefined && a.sublot !== null);
    const ofParcel = inputs.filter((a) => a.sublot === undefined || a.sublot === null);
    if (inputs.length === 0) {
      blocker(
        run,
        'assay-missing',
        '/assays',
        `No assay of ${element} has been entered; the contract needs it.`,
      );
    } else if (ofParcel.length > 1 || (ofParcel.length > 0 && ofPieces.length > 0)) {
      blocker(
        run,
        'assay-twice',
        '/assays',
        `${element} is given more than once; enter one assay of the parcel, or one of each sublot or bar.`,
      );
    } else if (ofPieces.length > 0) {
      settleByPiece(run, rule, ofPieces);
    } else {
      const settled = settleOne(run, rule, ofParcel[0] as AssayInput, `assays/${element}`, element);
      if (settled !== null) run.assays.set(element, settled);
    }
  }
}

function settleByPiece(run: SettlementRun, rule: AssayRule, inputs: AssayInput[]) {
  const settled: { mass: Figure; assay: Figure }[] = [];
  run.pieces.forEach((piece, index) => {
    const own = inputs.filter((a) => a.sublot === piece.name);
    if (own.length !== 1) {
      blocker(
        run,
        own.length === 0 ? 'assay-missing' : 'assay-twice',
        '/assays',
        `${rule.element} of ${piece.name} is given ${own.length === 0 ? 'not at all' : 'more than once'}; each sublot or bar needs one.`,
      );
      return;
    }
    const label = `${rule.element} of ${piece.name}`;
    const assay = settleOne(run, rule, own[0] as AssayInput, `assays/${rule.element}/${index + 1}`, label);
    if (assay !== null) settled.push({ mass: piece.mass, assay });
  });
  const stray = inputs.find((a) => !run.pieces.some((piece) => piece.name === a.sublot));
  if (stray !== undefined) {
    blocker(
      run,
      'assay-of-unknown-sublot',
      '/assays',
      `${rule.element} is given for ${stray.sublot}, which is not in the parcel.`,
    );
  }
  if (settled.length === 0 || settled.length !== run.pieces.length) return;
  const mass = sumOf(settled.map((s) => s.mass.value));
  if (mass.lte(0)) return;
  const metal = sumOf(settled.map((s) => s.mass.value.times(s.assay.value)));
  const mean = figure(metal.div(mass), rule.rounding, rule.unit);
  const terms = settled.map((s) => `${shown(s.mass)} × ${grouped(s.assay.text)}`).join(' + ');
  const masses = settled.map((s) => bare(s.mass)).join(' + ');
  addLine(run, {
    id: `assays/${rule.element}`,
    section: 'assays',
    label: `${rule.element}, mean weighted by mass`,
    working: `(${terms}) ÷ (${masses}) = ${shown(mean)}`,
    result: mean,
  });
  run.assays.set(rule.element, mean);
}

function settleOne(
  run: SettlementRun,
  rule: AssayRule,
  input: AssayInput,
  id: string,
  label: string,
): Figure | null {
  const weSell = run.terms.direction === 'we-sell';
  const inRuleUnit = (result: string | null, whose: string): string | null => {
    if (result === null) return null;
    if (Number(result) < 0) {
      blocker(run, 'assay-negative', '/assays', `${label}: ${whose} result ${result} is below zero.`);
      return null;
    }
    if (input.unit === rule.unit) return result;
    const conversion = gradeConversion(input.unit, rule.unit);
    const converted = figure(
      convert(new Dec(result), conversion, run.terms.factors),
      rule.rounding,
      rule.unit,
    );
    const from = given(result, input.unit);
    const text = conversionText(conversion, run.terms.factors, 0);
    addLine(run, {
      id: `${id}/${whose}`,
      section: 'assays',
      label: `${label}, ${whose} in ${rule.unit}`,
      working: `${unsigned(from)}${text} = ${unsigned(converted)}`,
      quantity: from,
      result: converted,
    });
    return converted.text;
  };
  const own = inRuleUnit(input.own, 'own');
  const other = inRuleUnit(input.buyer, weSell ? 'buyer' : 'seller');
  const results: AssayResults = {
    seller: weSell ? own : other,
    buyer: weSell ? other : own,
    umpire: inRuleUnit(input.umpire, 'umpire'),
  };
  const settled = settleAssay({ rule, results, stage: run.input.stage });
  if (settled.value === null) {
    blocker(
      run,
      'assay-missing',
      '/assays',
      `${label}: ${settled.missing ?? 'a result'} is missing; the ${run.input.stage} settlement needs it.`,
    );
    return null;
  }
  if (settled.provisionalOnly) {
    note(
      run,
      'assay-provisional',
      '/assays',
      `${label}: ${settled.reason}; it will be settled on the final statement.`,
    );
  }
  const assay = figure(settled.value, rule.rounding, rule.unit);
  addLine(run, {
    id,
    section: 'assays',
    label,
    working: `${settled.reason}: ${settled.expression} = ${shown(assay)}`,
    result: assay,
  });
  if (settled.sellerUmpireShareFrac !== null) {
    const already = run.umpireShares.get(rule.element);
    run.umpireShares.set(rule.element, (already ?? new Dec(0)).plus(settled.sellerUmpireShareFrac));
    run.umpired.set(rule.element, (run.umpired.get(rule.element) ?? 0) + 1);
  }
  return assay;
}

/** Unit spelled out: in a conversion between units a percent sign would count as a factor. */
function unsigned(f: Figure): string {
  return f.unit === 'percent' ? `${f.text} percent` : shown(f);
}
