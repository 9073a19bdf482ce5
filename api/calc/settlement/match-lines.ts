import { Dec } from '../money.ts';
import type { Settlement, SettlementLine } from './statement.ts';

/** A line of the other party's statement before it is known what it answers to. */
export interface UnmatchedLine {
  label: string;
  quantity: string | null;
  amount: string | null;
}

export interface LineMatch {
  /** Id of the line of ours; null where none was found. */
  id: string | null;
  /** By what: the same words, an amount that only these two have, or words of one that are all in the other. */
  by: 'label' | 'amount' | 'words' | null;
}

const FIGURE_SECTIONS: SettlementLine['section'][] = ['weights', 'assays', 'prices'];

/** Lines of ours that a line of theirs can answer to: money, or a weight, an assay or a price. */
export function answerableLines(ours: Settlement): SettlementLine[] {
  return ours.lines.filter((line) => line.amount !== null || FIGURE_SECTIONS.includes(line.section));
}

/**
 * Proposes for each line of theirs the line of ours that it answers to, for the user to look over: first by
 * the same words, then by an amount that no other line has, then by words of one label that all stand in the
 * other. What fits two lines is not guessed. Each line of ours is proposed once.
 */
export function matchLines(ours: Settlement, theirs: readonly UnmatchedLine[]): LineMatch[] {
  const matches: LineMatch[] = theirs.map(() => ({ id: null, by: null }));
  const free = new Set(answerableLines(ours));
  /** `fit` is how well two lines go together, 0 for not at all; of several the best, and none where two are best. */
  const pass = (by: LineMatch['by'], fit: (their: UnmatchedLine, our: SettlementLine) => number): void => {
    const found = theirs.map((their, index) =>
      matches[index]?.id === null
        ? bestOf([...free], (our) => (isOfKind(their, our) ? fit(their, our) : 0))
        : [],
    );
    found.forEach((candidates, index) => {
      const [only] = candidates;
      const rivals = found.filter((others) => only !== undefined && others.includes(only)).length;
      if (only === undefined || candidates.length > 1 || rivals > 1) return;
      matches[index] = { id: only.id, by };
      free.delete(only);
    });
  };
  pass('label', (their, our) => {
    if (plain(their.label) === plain(our.label)) return 2;
    return Number(plain(their.label) === plain(headOf(our.label)));
  });
  pass('amount', (their, our) => {
    if (their.amount === null || our.amount === null || new Dec(our.amount).isZero()) return 0;
    return Number(new Dec(their.amount).eq(our.amount));
  });
  pass('words', (their, our) => wordsInCommon(wordsOf(their.label), wordsOf(our.label)));
  return matches;
}

function isOfKind(their: UnmatchedLine, our: SettlementLine): boolean {
  return (their.amount !== null) === (our.amount !== null);
}

const NAMES: Record<string, string> = {
  gold: 'au',
  silver: 'ag',
  copper: 'cu',
  lead: 'pb',
  arsenic: 'as',
  antimony: 'sb',
  bismuth: 'bi',
  mercury: 'hg',
  zinc: 'zn',
};

/** Small words that say nothing of which line is meant. */
const EMPTY = new Set([
  'of',
  'for',
  'the',
  'and',
  'per',
  'on',
  'to',
  'at',
  'in',
  'charge',
  'paid',
  'penalty',
]);

function plain(label: string): string {
  return label
    .normalize('NFKC')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

/** Words of a label without endings of the plural; metals by their symbols. */
function wordsOf(label: string): Set<string> {
  const words = plain(label)
    .split(' ')
    .map((word) => NAMES[word] ?? (word.length > 3 ? word.replace(/(?<=[^s])s$/, '') : word))
    .filter((word) => word !== '' && !EMPTY.has(word));
  return new Set(words);
}

/** What a label of ours names, without how it was worked: `Dry mass` of `Dry mass, moisture 8 %`. */
function headOf(label: string): string {
  return label.split(',')[0] ?? label;
}

/** How many words both have, where one has all of the other's; otherwise 0. A little more where they are the same. */
function wordsInCommon(a: ReadonlySet<string>, b: ReadonlySet<string>): number {
  const common = [...a].filter((word) => b.has(word)).length;
  if (common < Math.min(a.size, b.size)) return 0;
  return a.size === b.size ? common + 0.5 : common;
}

function bestOf<T>(all: readonly T[], fit: (one: T) => number): T[] {
  const fits = all.map((one) => ({ one, by: fit(one) }));
  const best = Math.max(0, ...fits.map(({ by }) => by));
  return best === 0 ? [] : fits.filter(({ by }) => by === best).map(({ one }) => one);
}
