import type { ByLevelCharge, ByValueCharge, Charge, Escalator, Ladder } from './charge-terms.ts';
import { rises } from './check-levels.ts';
import type { Say } from './check-terms.ts';
import { MOISTURE, type MassBasis } from './term-units.ts';
import type { Terms } from './terms.ts';

const BASES_OF_DRY: MassBasis[] = ['gross', 'wet', 'moisture', 'dry', 'settlement'];
const BASES_OF_MELT: MassBasis[] = ['received', 'settlement'];

function checkBasis(terms: Terms, basis: MassBasis, path: string, say: Say) {
  const known = terms.weights.kind === 'dry' ? BASES_OF_DRY : BASES_OF_MELT;
  if (known.includes(basis)) return;
  say(
    'blocker',
    'mass-basis-not-of-material',
    path,
    `The clause is reckoned on the ${basis} mass, which this material does not have; ${known.join(', ')} would do.`,
  );
}

function bandsOf(ladder: Ladder): { from: string; rate: string }[] {
  return ladder.kind === 'bracket' ? ladder.brackets : ladder.bands;
}

function checkLadder(ladder: Ladder, path: string, name: string, say: Say) {
  const levels = bandsOf(ladder).map((band) => band.from);
  const falling = ladder.kind === 'shortfall';
  if (!rises(falling ? levels.toReversed() : levels)) {
    say(
      'blocker',
      falling ? 'levels-not-falling' : 'levels-not-rising',
      path,
      `The levels of ${name} must be in ${falling ? 'falling' : 'rising'} order.`,
    );
  }
  if (ladder.kind !== 'bracket' && ladder.bands.some((band) => Number(band.step) <= 0)) {
    say('blocker', 'step-not-above-zero', path, `A step of ${name} is not above zero.`);
  }
}

function checkEscalators(terms: Terms, escalators: Escalator[], path: string, name: string, say: Say) {
  escalators.forEach((escalator, index) => {
    const at = `${path}/${index}`;
    if (!terms.metals.some((metal) => metal.metal === escalator.metal)) {
      say(
        'blocker',
        'escalator-metal-not-priced',
        at,
        `${name} moves with the price of ${escalator.metal}, which the contract does not price.`,
      );
    }
    if (escalator.up !== null) checkLadder(escalator.up, `${at}/up`, `${name}, upwards`, say);
    if (escalator.down !== null) checkLadder(escalator.down, `${at}/down`, `${name}, downwards`, say);
    const up = escalator.up?.bands[0]?.from;
    const down = escalator.down?.bands[0]?.from;
    if (up !== undefined && down !== undefined && Number(down) > Number(up)) {
      say(
        'warning',
        'escalator-overlaps',
        at,
        `${name}: between ${up} and ${down} the price moves it up and down at once.`,
      );
    }
  });
}

function checkAssayed(terms: Terms, elements: string[], path: string, name: string, say: Say) {
  for (const element of elements) {
    if (element !== MOISTURE && !terms.assays.some((rule) => rule.element === element)) {
      say(
        'blocker',
        'no-assay-rule',
        path,
        `${name} needs the assay of ${element}, but the contract does not say how it is settled.`,
      );
    }
  }
  if (elements.includes(MOISTURE) && terms.weights.kind === 'melt') {
    say('blocker', 'moisture-of-bars', path, `${name} counts moisture, which bars do not have.`);
  }
  if (new Set(elements).size < elements.length) {
    say('blocker', 'element-twice', path, `${name} counts an element twice.`);
  }
}

/** Penalties and credits: elements known, ladders in order, refusal above the free level. */
export function checkElements(terms: Terms, say: Say): void {
  const check = (elements: string[], path: string, name: string) =>
    checkAssayed(terms, elements, path, name, say);
  terms.penalties.forEach((penalty, index) => {
    const path = `/penalties/${index}`;
    check(penalty.elements, path, penalty.name);
    checkLadder(penalty.ladder, `${path}/ladder`, penalty.name, say);
    checkBasis(terms, penalty.basis, `${path}/basis`, say);
    const free = bandsOf(penalty.ladder)[0]?.from ?? '0';
    const climbs = penalty.ladder.kind !== 'shortfall';
    if (climbs && penalty.refusedAbove !== null && Number(penalty.refusedAbove) < Number(free)) {
      say(
        'warning',
        'refused-before-penalty',
        `${path}/refusedAbove`,
        `${penalty.name}: the parcel is refused above ${penalty.refusedAbove}, before the penalty begins at ${free}.`,
      );
    }
    if (bandsOf(penalty.ladder).some((band) => Number(band.rate) < 0)) {
      say(
        'warning',
        'penalty-negative',
        `${path}/ladder`,
        `${penalty.name} has a rate below zero, which pays.`,
      );
    }
  });
  terms.credits.forEach((credit, index) => {
    const path = `/credits/${index}`;
    if (credit.kind === 'assay-value') {
      check(credit.metals, path, credit.name);
      for (const metal of credit.metals) {
        if (!terms.metals.some((m) => m.metal === metal)) {
          say(
            'blocker',
            'credit-metal-not-priced',
            path,
            `${credit.name} values ${metal}, which the contract does not price.`,
          );
        }
      }
      return;
    }
    checkBasis(terms, credit.basis, `${path}/basis`, say);
    if (credit.kind !== 'component') return;
    check(credit.elements, path, credit.name);
    checkLadder(credit.ladder, `${path}/ladder`, credit.name, say);
  });
}

export function checkCharges(terms: Terms, say: Say): void {
  if (terms.acceptance !== null) checkBasis(terms, terms.acceptance.basis, '/acceptance/basis', say);
  terms.charges.forEach((charge, index) => checkCharge(terms, charge, `/charges/${index}`, say));
  terms.metals.forEach((metal, index) => {
    if (metal.refining === null) return;
    const path = `/metals/${index}/refining/escalators`;
    checkEscalators(terms, metal.refining.escalators, path, `Refining of ${metal.metal}`, say);
  });
}

function checkCharge(terms: Terms, charge: Charge, path: string, say: Say) {
  if (charge.kind === 'per-mass' || charge.kind === 'per-started-lot' || charge.kind === 'by-value') {
    checkBasis(terms, charge.basis, `${path}/basis`, say);
  }
  if (charge.kind === 'per-mass') {
    checkEscalators(terms, charge.escalators, `${path}/escalators`, charge.name, say);
  }
  if (charge.kind === 'flat' && charge.onlyBelow !== null) {
    checkBasis(terms, charge.onlyBelow.basis, `${path}/onlyBelow/basis`, say);
  }
  if (charge.kind === 'by-level') {
    checkBasis(terms, charge.basis, `${path}/basis`, say);
    checkLadder(charge.ladder, `${path}/ladder`, charge.name, say);
    checkLevel(terms, charge, path, say);
  }
  if (charge.kind === 'by-value') {
    checkLadder(charge.brackets, `${path}/brackets`, charge.name, say);
    checkBrackets(charge, path, say);
  }
  if (charge.kind === 'per-started-lot' && Number(charge.mass) <= 0) {
    say(
      'blocker',
      'lot-not-above-zero',
      `${path}/mass`,
      `${charge.name}: a lot of ${charge.mass} cannot be.`,
    );
  }
  const rate =
    charge.kind === 'per-mass'
      ? charge.rate
      : charge.kind === 'flat' || charge.kind === 'per-started-lot'
        ? charge.amount
        : '0';
  if (Number(rate) < 0) {
    say(
      'warning',
      'charge-negative',
      path,
      `${charge.name} is ${rate}: a charge is written above zero, below zero it pays.`,
    );
  }
}

function checkLevel(terms: Terms, { level, name }: ByLevelCharge, path: string, say: Say) {
  if (level.kind === 'price') {
    if (terms.metals.some((metal) => metal.metal === level.metal)) return;
    say(
      'blocker',
      'charge-metal-not-priced',
      `${path}/level`,
      `${name} goes by the price of ${level.metal}, which the contract does not price.`,
    );
    return;
  }
  if (level.kind === 'mass') {
    checkBasis(terms, level.basis, `${path}/level/basis`, say);
    return;
  }
  checkAssayed(terms, level.elements, `${path}/level`, name, say);
}

/** A charge that rises at a bracket takes more from the whole parcel than the value it gained. */
function checkBrackets(charge: ByValueCharge, path: string, say: Say) {
  const { brackets } = charge.brackets;
  brackets.forEach((bracket, index) => {
    const below = brackets[index - 1]?.rate ?? '0';
    if (Number(bracket.from) === 0 || Number(bracket.rate) <= Number(below)) return;
    say(
      'note',
      'bracket-pays-less',
      `${path}/brackets/brackets/${index}`,
      `${charge.name} rises from ${below} to ${bracket.rate} per ${charge.unit} at a value of ${bracket.from}: richer material earns less there.`,
    );
  });
}
