import type { Finding } from '../finding.ts';
import { isDecimalText } from '../money.ts';
import { checkAssays, checkMetals } from './check-metals.ts';
import { checkCharges, checkElements } from './check-charges.ts';
import { checkRoyalties, checkTaxes } from './check-royalties.ts';
import type { ContractFactors, RoundingTerms, Terms } from './terms.ts';

/** Collects findings with their JSON pointer into the terms. */
export type Say = (level: Finding['level'], code: string, path: string, sentence: string) => void;

/**
 * What is contradictory, impossible or doubtful in a contract before any parcel is
 * settled by it. A blocker means that a settlement by these terms cannot be trusted.
 */
export function checkTerms(terms: Terms): Finding[] {
  const findings: Finding[] = [];
  const say: Say = (level, code, path, sentence) => findings.push({ level, code, path, sentence });
  if (!everyNumberIs(terms)) {
    checkNumbers(terms, '', say);
    return findings;
  }
  checkFactors(terms.factors, say);
  checkGeneral(terms, say);
  checkMoney(terms, say);
  checkAssays(terms, say);
  checkMetals(terms, say);
  checkElements(terms, say);
  checkCharges(terms, say);
  checkRoyalties(terms, say);
  checkTaxes(terms, say);
  return findings;
}

const DECIMAL_FIELDS = new Set([
  'above',
  'amount',
  'cap',
  'change',
  'cost',
  'deduction',
  'exemption',
  'floor',
  'franchiseFrac',
  'from',
  'fromGrade',
  'limit',
  'longTonsPerTonne',
  'mass',
  'maximum',
  'maximumDecrease',
  'maximumIncrease',
  'meltLossLimitFrac',
  'minimum',
  'minimumCharges',
  'minimumDeduction',
  'minimumGrade',
  'multipleOf',
  'ofFrac',
  'ounceG',
  'paidFrac',
  'poundsPerTonne',
  'price',
  'rate',
  'rateFrac',
  'reduction',
  'refusedAbove',
  'relativeFrac',
  'share',
  'shareFrac',
  'shortTonsPerTonne',
  'step',
  'tollShareFrac',
]);

/** Whether a field of the contract is a decimal text; dates and words of the same name are passed over. */
function isDecimalField(node: object, name: string, value: unknown): value is string {
  if (typeof value !== 'string' || !DECIMAL_FIELDS.has(name)) return false;
  if ('kind' in node && node.kind === 'dates') return false;
  // `mass` also names what an own-price royalty counts.
  return !(name === 'mass' && (value === 'contained' || value === 'payable'));
}

/** Whether every decimal text is a plain number: asked for every parcel, so without saying where one is not. */
function everyNumberIs(node: object): boolean {
  for (const name in node) {
    const value = (node as Record<string, unknown>)[name];
    if (typeof value === 'object') {
      if (value !== null && !everyNumberIs(value)) return false;
    } else if (isDecimalField(node, name, value) && !isDecimalText(value)) return false;
  }
  return true;
}

/** Says of every decimal text that is no plain number where it stands. */
function checkNumbers(node: unknown, path: string, say: Say): void {
  if (Array.isArray(node)) {
    node.forEach((item, index) => checkNumbers(item, `${path}/${index}`, say));
    return;
  }
  if (typeof node !== 'object' || node === null) return;
  for (const [name, value] of Object.entries(node)) {
    if (typeof value === 'object') {
      checkNumbers(value, `${path}/${name}`, say);
    } else if (isDecimalField(node, name, value) && !isDecimalText(value)) {
      say(
        'blocker',
        'not-a-number',
        `${path}/${name}`,
        `The contract has “${value}” where a plain decimal number such as 12.50 is needed.`,
      );
    }
  }
}

const PLAUSIBLE: Record<keyof ContractFactors, [number, number, string]> = {
  ounceG: [31.1, 31.11, 'grams in a troy ounce'],
  poundsPerTonne: [2204, 2205.5, 'pounds in a tonne'],
  shortTonsPerTonne: [1.102, 1.103, 'short tons in a tonne'],
  longTonsPerTonne: [0.984, 0.985, 'long tons in a tonne'],
};

function checkFactors(factors: ContractFactors, say: Say) {
  for (const name of Object.keys(PLAUSIBLE) as (keyof ContractFactors)[]) {
    const [low, high, words] = PLAUSIBLE[name];
    const value = Number(factors[name]);
    if (value <= 0) {
      say('blocker', 'factor-not-above-zero', `/factors/${name}`, `${factors[name]} ${words} cannot be.`);
    } else if (value < low || value > high) {
      say(
        'warning',
        'factor-unusual',
        `/factors/${name}`,
        `The contract counts ${factors[name]} ${words}; usual is ${low} to ${high}.`,
      );
    }
  }
}

function checkGeneral(terms: Terms, say: Say) {
  if ((terms.material === 'dore') !== (terms.weights.kind === 'melt')) {
    say(
      'warning',
      'weights-not-of-material',
      '/weights/kind',
      terms.material === 'dore'
        ? 'Doré is settled on bars melted and weighed, but the contract weighs wet material.'
        : 'The contract melts and weighs bars, but the material is not doré.',
    );
  }
  if (terms.weights.kind === 'dry' && Number(terms.weights.franchiseFrac) >= 0.1) {
    say(
      'warning',
      'franchise-large',
      '/weights/franchiseFrac',
      `A franchise of ${terms.weights.franchiseFrac} is a fraction; 0.005 would be half a percent.`,
    );
  }
  if (terms.valuation.kind === 'per-tonne') {
    if (terms.settledIn === 'metal') {
      say(
        'blocker',
        'per-tonne-in-metal',
        '/valuation',
        'Metal is returned by mass, so the valuation must be by payable metal.',
      );
    }
    terms.metals.forEach((metal, index) => {
      if (metal.order === 'content') {
        say(
          'blocker',
          'per-tonne-of-content',
          `/metals/${index}/order`,
          `${metal.metal} is worked on its content, but the contract values per tonne; choose one.`,
        );
      }
    });
  }
  if (Number(terms.tollShareFrac) > 0 && terms.direction !== 'we-toll') {
    say(
      'warning',
      'toll-share-without-toll',
      '/tollShareFrac',
      'A share of the metal stays with the mill, but this is no toll agreement.',
    );
  }
  const { acceptance } = terms;
  if (
    acceptance !== null &&
    acceptance.minimum !== null &&
    acceptance.maximum !== null &&
    Number(acceptance.minimum) > Number(acceptance.maximum)
  ) {
    say(
      'blocker',
      'minimum-above-maximum',
      '/acceptance',
      `The smallest parcel, ${acceptance.minimum}, is larger than the largest, ${acceptance.maximum}.`,
    );
  }
  for (const name of Object.keys(terms.rounding) as (keyof RoundingTerms)[]) {
    const rule = terms.rounding[name];
    if (rule.multipleOf !== null && Number(rule.multipleOf) <= 0) {
      say(
        'blocker',
        'multiple-not-above-zero',
        `/rounding/${name}/multipleOf`,
        `Rounding to multiples of ${rule.multipleOf} cannot be.`,
      );
    } else if (
      rule.multipleOf !== null &&
      (rule.multipleOf.split('.')[1]?.replace(/0+$/, '').length ?? 0) > rule.decimals
    ) {
      say(
        'blocker',
        'multiple-finer-than-decimals',
        `/rounding/${name}`,
        `Multiples of ${rule.multipleOf} cannot be written with ${rule.decimals} decimals.`,
      );
    }
  }
}

function checkMoney(terms: Terms, say: Say) {
  const used = new Set<string>([
    ...terms.metals.map((m) => m.price.currency ?? terms.currency),
    ...terms.charges.map((c) => c.currency ?? terms.currency),
    terms.paidIn ?? terms.currency,
  ]);
  for (const currency of used) {
    if (currency !== terms.currency && !terms.exchangeRates.some((e) => e.currency === currency)) {
      say(
        'blocker',
        'no-exchange-clause',
        '/exchangeRates',
        `The contract uses ${currency} but does not say which day's exchange rate counts.`,
      );
    }
  }
  const first = terms.provisional;
  const second = terms.secondProvisional;
  if (second !== null && first === null) {
    say('warning', 'second-without-first', '/secondProvisional', 'A second advance follows no first one.');
  }
  if (first !== null && second !== null && Number(second.shareFrac) < Number(first.shareFrac)) {
    say(
      'warning',
      'second-below-first',
      '/secondProvisional/shareFrac',
      `The second advance brings the total to ${second.shareFrac}, less than the first, ${first.shareFrac}.`,
    );
  }
  if (terms.interest !== null && first === null) {
    say('note', 'interest-without-advance', '/interest', 'Interest is charged, but nothing is advanced.');
  }
  terms.payment.forEach((payment, index) => {
    if (terms.payment.findIndex((p) => p.stage === payment.stage) !== index) {
      say(
        'blocker',
        'payment-twice',
        `/payment/${index}`,
        `The day of the ${payment.stage} payment is given twice.`,
      );
    }
  });
}
