import { Dec } from '../../api/calc/money.ts';
import type { ComparedLine } from '../../api/calc/settlement/compared-lines.ts';
import type { LikelyCause, StatementComparison } from '../../api/calc/settlement/compare-statement.ts';
import type { ComparedStatements } from './buyer-input.ts';
import { formatDecimal, formatMoney } from './format.ts';

/** Theirs less ours of a line, a missing side of a money line counted as nothing; null where nothing can be said. */
export function lineDifference({ money, ours, theirs, difference }: ComparedLine): string | null {
  if (difference !== null || !money) return difference;
  return new Dec(theirs ?? 0).minus(ours ?? 0).toFixed();
}

/** Lines where theirs is not ours and no cause brings ours to theirs. */
export function openLines({ lines }: StatementComparison): ComparedLine[] {
  return lines.filter((line) => {
    const difference = lineDifference(line);
    return line.cause === null && difference !== null && !new Dec(difference).isZero();
  });
}

/** Lines where theirs is not ours, explained or not. */
function differingLines({ lines }: StatementComparison): ComparedLine[] {
  return lines.filter((line) => !new Dec(lineDifference(line) ?? 0).isZero());
}

function isWorked({ findings }: StatementComparison): boolean {
  return !findings.some(({ level }) => level === 'blocker');
}

const countOf = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** How the two statements stand to each other, in one sentence. */
export function differenceSentence({
  comparison,
  partyName,
  theirNumber,
  ourNumber,
}: ComparedStatements): string {
  const { currency, moneyDecimals, difference, theirTotal, ourTotal } = comparison;
  const money = (amount: string) => formatMoney(amount, moneyDecimals, currency);
  const theirs = `${theirNumber === '' ? 'The statement' : `Statement ${theirNumber}`} of ${partyName}`;
  const ours = ourNumber === null ? 'our draft' : `our ${ourNumber}`;
  if (!isWorked(comparison)) return `${theirs} cannot be held against ${ours}, which is not complete.`;
  const by = new Dec(difference);
  if (!by.isZero()) {
    const side = by.isNegative() ? 'less' : 'more';
    return `${theirs} comes to ${money(theirTotal)}, ${money(by.abs().toFixed())} ${side} than ${ours} of ${money(ourTotal)}.`;
  }
  const differing = differingLines(comparison).length;
  return differing === 0
    ? `${theirs} agrees with ${ours} to the last digit: both come to ${money(ourTotal)}.`
    : `${theirs} and ${ours} both come to ${money(ourTotal)}, but ${countOf(differing, 'line differs', 'lines differ')}.`;
}

/** Whether the difference is explained, in one sentence; null where there is none. */
export function explainedSentence({ comparison }: ComparedStatements): string | null {
  const { causes, currency, moneyDecimals, unexplained } = comparison;
  if (!isWorked(comparison) || differingLines(comparison).length === 0) return null;
  const [only] = causes;
  if (only === undefined)
    return 'No change that was tried brings ours to theirs; what to ask is listed line by line.';
  const open = openLines(comparison).length;
  const rest = new Dec(unexplained);
  if (rest.isZero() && open === 0)
    return causes.length === 1
      ? `One thing explains it to the last digit: ${lowerFirst(only.sentence)}`
      : `${capitalCount(causes.length)} things explain it to the last digit, one on top of the other.`;
  const explained =
    causes.length === 1 ? 'One thing explains' : `${capitalCount(causes.length)} things explain`;
  const lines = countOf(open, 'line', 'lines');
  if (rest.isZero()) return `${explained} a part of it; ${lines} ${open === 1 ? 'is' : 'are'} left open.`;
  const money = formatMoney(rest.toFixed(), moneyDecimals, currency);
  return open === 0
    ? `${explained} every line; ${money} of the total is left open.`
    : `${explained} a part of it; ${lines} and ${money} of the total are left open.`;
}

const NUMBER_WORDS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six'];
const capitalCount = (count: number): string => NUMBER_WORDS[count] ?? String(count);

/** `Their moisture is …` within a sentence; a symbol such as Au keeps its capital. */
function lowerFirst(sentence: string): string {
  return /^(Their|They|For)\b/.test(sentence)
    ? sentence.charAt(0).toLowerCase() + sentence.slice(1)
    : sentence;
}

/** What a cause does to the money, and whose good it is to. */
export function causeSentence(
  cause: LikelyCause,
  { comparison, weAreOwed }: Pick<ComparedStatements, 'comparison' | 'weAreOwed'>,
): string {
  const { currency, moneyDecimals } = comparison;
  const effect = new Dec(cause.moneyEffect);
  const money = (amount: string) => formatMoney(amount, moneyDecimals, currency);
  const total = `Worked again so, ours comes to ${money(cause.totalAfter)}`;
  if (effect.isZero()) return `${cause.sentence} ${total}: the total is the same.`;
  const change = `${money(effect.abs().toFixed())} ${effect.isNegative() ? 'less' : 'more'}`;
  const good = effect.isNegative() === weAreOwed ? 'to our loss' : 'to our good';
  return `${cause.sentence} ${total}, ${change}: ${good}.`;
}

/** By what is asked for, the codes of the causes that ask for it. */
const ASKS: [ask: string, codes: string[]][] = [
  [
    'Ask for the moisture certificate: wet and dry masses of the samples, hours and temperature of drying.',
    ['other-moisture'],
  ],
  [
    'Ask for the assay certificate and when results were exchanged, and point to how the contract settles assays.',
    [
      'their-assay',
      'other-assay',
      'assay-of-one-party',
      'umpire-alone',
      'umpire-left-out',
      'mean-not-weighted',
    ],
  ],
  [
    'Ask for the daily quotations that they averaged, their source, and the day from which they counted.',
    ['their-price', 'other-price', 'other-quotational-period'],
  ],
  ['Ask where they have the factor from, and point to the one in the contract.', ['other-factor']],
  ['Ask them to round as the contract says, stage by stage.', ['other-rounding']],
  [
    'Ask for the weighing record, and by which clause they reckon on that mass.',
    [
      'their-mass',
      'other-mass',
      'other-mass-basis',
      'other-mass-unit',
      'other-franchise',
      'other-mass-of-record',
    ],
  ],
  [
    'Ask them to work the payable metal by the clause of the contract, step by step.',
    [
      'other-payable-form',
      'other-order',
      'full-price',
      'reduction-left-out',
      'minimum-deduction-left-out',
      'other-chooser',
    ],
  ],
  [
    'Ask which price they took, and point to how the contract chooses it.',
    [
      'other-price-option',
      'other-price-rule',
      'option-in-full',
      'other-price-step',
      'floor-left-out',
      'cap-left-out',
    ],
  ],
  ['Ask how they count the steps, and point to the clause.', ['other-step-counting', 'other-bracket']],
  ['Send them the agreement again, with its date and who made it.', ['agreed-item-left-out']],
  [
    'Ask by which rule of tax they reckon so, and let a tax adviser look at it.',
    ['other-tax-base', 'tax-left-out'],
  ],
  [
    'Ask by which clause interest, royalty or advance are reckoned so.',
    [
      'other-day-count',
      'other-royalty-base',
      'exemption-left-out',
      'other-advance-base',
      'other-advance-share',
    ],
  ],
];
const ASK_FOR_CLAUSE = 'Ask by which clause of the contract they do so.';

function askOf(code: string): string {
  return ASKS.find(([, codes]) => codes.includes(code))?.[0] ?? ASK_FOR_CLAUSE;
}

const TO_OUR_GOOD = 'It is to our good; say so all the same, or it will be taken back when they find it.';

/** What to ask the other party: for each cause, then for each line that none explains. */
export function questions({ comparison, weAreOwed }: ComparedStatements): string[] {
  if (!isWorked(comparison)) return [];
  const { currency, moneyDecimals } = comparison;
  const money = (amount: string) => formatMoney(amount, moneyDecimals, currency);
  const forCauses = comparison.causes.map(({ code, sentence, moneyEffect }) => {
    const effect = new Dec(moneyEffect);
    const ourGood = !effect.isZero() && effect.isNegative() !== weAreOwed;
    return [sentence, askOf(code), ...(ourGood ? [TO_OUR_GOOD] : [])].join(' ');
  });
  const forLines = openLines(comparison).map((line) => {
    const { label, ours, theirs, unit, working, ourQuantity, theirQuantity } = line;
    const shown = (value: string) => (line.money ? money(value) : `${formatDecimal(value)} ${unit}`.trim());
    if (ours === null)
      return `Ask by which clause they put “${label}”, ${shown(theirs ?? '0')}, on their statement.`;
    if (theirs === null) return `Ask why “${label}”, ${shown(ours)} on ours, is not on their statement.`;
    const onOther =
      ourQuantity !== null && theirQuantity !== null && !new Dec(ourQuantity.value).eq(theirQuantity)
        ? ` They reckon on ${formatDecimal(theirQuantity)} ${ourQuantity.unit}.`
        : '';
    return `Ask how they come to ${shown(theirs)} for “${label}”.${onOther} Ours: ${working === '' ? shown(ours) : working}.`;
  });
  return [...forCauses, ...forLines];
}
