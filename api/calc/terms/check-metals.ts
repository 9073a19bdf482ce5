import { Dec, type DecimalNumber } from '../money.ts';
import type { Say } from './check-terms.ts';
import type { MetalTerms, PayableForm } from './metal-terms.ts';
import { rises } from './check-levels.ts';
import { chooserOf } from './choosing-elements.ts';
import { checkPrice } from './check-prices.ts';
import { payableOf } from './payable-form.ts';
import type { Terms } from './terms.ts';

export function checkAssays(terms: Terms, say: Say): void {
  terms.assays.forEach((rule, index) => {
    const path = `/assays/${index}`;
    if (terms.assays.findIndex((r) => r.element === rule.element) !== index) {
      say('blocker', 'assay-rule-twice', path, `The assay of ${rule.element} is settled by two rules.`);
    }
    if (rule.settledBy.kind !== 'exchange') return;
    const levels = rule.settledBy.splittingLimits.map((band) => band.fromGrade);
    if (!rises(levels)) {
      say(
        'blocker',
        'levels-not-rising',
        `${path}/settledBy/splittingLimits`,
        `The splitting limits of ${rule.element} must begin at rising grades.`,
      );
    }
    rule.settledBy.splittingLimits.forEach((band, limit) => {
      if (band.relativeFrac != null && Number(band.relativeFrac) >= 0.5)
        say(
          'warning',
          'relative-limit-large',
          `${path}/settledBy/splittingLimits/${limit}/relativeFrac`,
          `A splitting limit of ${band.relativeFrac} of the grade is a fraction; five percent is written 0.05.`,
        );
    });
    if (Number(levels[0] ?? 1) > 0) {
      say(
        'warning',
        'no-splitting-limit-at-low-grade',
        `${path}/settledBy/splittingLimits/0/fromGrade`,
        `Below ${levels[0] ?? ''} ${rule.unit} ${rule.element} has no splitting limit: any difference goes to the umpire.`,
      );
    }
  });
}

function levelsOf(form: PayableForm): string[] {
  if (form.kind === 'steps') return form.steps.map((step) => step.fromGrade);
  return form.kind === 'bands' ? form.bands.map((band) => band.fromGrade) : [];
}

export function checkMetals(terms: Terms, say: Say): void {
  if (terms.metals.length === 0) {
    say('note', 'no-metal-payable', '/metals', 'The contract pays for no metal.');
  }
  terms.metals.forEach((metal, index) => {
    const path = `/metals/${index}`;
    if (terms.metals.findIndex((m) => m.metal === metal.metal) !== index) {
      say('blocker', 'metal-twice', path, `${metal.metal} is paid by two clauses; keep one.`);
    }
    const rule = terms.assays.find((r) => r.element === metal.metal);
    if (rule === undefined) {
      say(
        'blocker',
        'no-assay-rule',
        path,
        `${metal.metal} is paid for, but the contract does not say how its assay is settled.`,
      );
    }
    if (!rises(levelsOf(metal.form))) {
      say(
        'blocker',
        'levels-not-rising',
        `${path}/form`,
        `The levels paid for ${metal.metal} must begin at rising grades.`,
      );
    }
    checkPaid(metal, path, rule?.unit ?? '', say);
    checkSteps(metal, path, rule?.unit ?? '', say);
    checkSliding(terms, metal, path, say);
    checkPrice(terms, metal, path, say);
    if (terms.settledIn === 'metal' && metal.refining?.kind === 'price-reduction') {
      say(
        'blocker',
        'price-reduction-in-metal',
        `${path}/refining/kind`,
        `${metal.metal} is returned as metal, so its refining charge cannot be taken off a price.`,
      );
    }
  });
}

function checkPaid(metal: MetalTerms, path: string, unit: string, say: Say) {
  const forms =
    metal.form.kind === 'steps'
      ? metal.form.steps.map((step) => step.form)
      : metal.form.kind === 'bands'
        ? metal.form.bands.map((band) => ({ paidFrac: band.paidFrac, deduction: '0' }))
        : [metal.form.kind === 'sliding' ? metal.form.form : metal.form];
  for (const form of forms) {
    const paid = Number(form.paidFrac);
    if (paid < 0 || paid > 1) {
      say(
        'blocker',
        'paid-fraction-out-of-range',
        `${path}/form`,
        `${metal.metal} is paid at ${form.paidFrac}; a fraction from 0 to 1 is right, 0.97 for 97 %.`,
      );
    } else if (paid < 0.2) {
      say(
        'warning',
        'paid-fraction-small',
        `${path}/form`,
        `Only ${form.paidFrac} of the ${metal.metal} is paid; 97 % is written 0.97.`,
      );
    }
    if (Number(form.deduction) < 0) {
      say(
        'blocker',
        'deduction-negative',
        `${path}/form`,
        `The deduction of ${form.deduction} ${unit} would add metal.`,
      );
    }
  }
}

/** Steps, thresholds and the like where a richer parcel is suddenly paid less are worth knowing. */
function checkSteps(metal: MetalTerms, path: string, unit: string, say: Say) {
  const { form, minimumDeduction } = metal;
  if (form.kind !== 'steps' || chooserOf(form) !== null) return;
  const paidAt = (grade: DecimalNumber) =>
    payableOf({
      form,
      minimumDeduction,
      amount: grade.toFixed(),
      grade: grade.toFixed(),
      perGrade: (level) => level,
    }).value;
  for (const step of form.steps) {
    const at = new Dec(step.fromGrade);
    const justBelow = at.minus('0.000000001');
    if (justBelow.gt(0) && paidAt(justBelow).minus(paidAt(at)).gt('0.00001')) {
      say(
        'note',
        'step-pays-less',
        `${path}/form`,
        `At ${step.fromGrade} ${unit} the step pays for ${paidAt(at).toDecimalPlaces(4).toFixed()}, just below it for ${paidAt(justBelow).toDecimalPlaces(4).toFixed()} ${unit}: richer material earns less there.`,
      );
    }
  }
}

/** What chooses or slides needs its own assay rule; limits in order; a scale that pays less for more is named. */
function checkSliding(terms: Terms, { metal, form }: MetalTerms, path: string, say: Say) {
  const chooser = chooserOf(form);
  if (chooser !== null && !terms.assays.some((rule) => rule.element === chooser)) {
    say(
      'blocker',
      'no-assay-rule',
      `${path}/form/by`,
      `What is paid for ${metal} goes by ${chooser}, but the contract does not say how its assay is settled.`,
    );
  }
  if (form.kind !== 'sliding') return;
  if (Number(form.step) <= 0) {
    say(
      'blocker',
      'step-not-above-zero',
      `${path}/form/step`,
      `The step of ${metal}'s scale is not above zero.`,
    );
  }
  if (form.minimum !== null && form.maximum !== null && Number(form.minimum) > Number(form.maximum)) {
    say(
      'blocker',
      'minimum-above-maximum',
      `${path}/form`,
      `The least of ${metal}'s scale, ${form.minimum}, is above its greatest, ${form.maximum}.`,
    );
  }
  if (form.slides === 'paidFrac' && Math.abs(Number(form.change)) > 0.2) {
    say(
      'warning',
      'paid-fraction-change-large',
      `${path}/form/change`,
      `The part of ${metal} paid changes by ${form.change} a step; half a percent is written 0.005.`,
    );
  }
  const falls = form.slides === 'paidFrac' ? Number(form.change) < 0 : Number(form.change) > 0;
  if (falls || form.counting === 'whole-steps') {
    say(
      'note',
      'step-pays-less',
      `${path}/form`,
      `${metal} is paid by a scale that ${falls ? 'pays a smaller part of richer material' : 'moves by whole steps'}: somewhat richer material may earn less.`,
    );
  }
}
