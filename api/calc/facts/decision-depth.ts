import type { BreakEven } from '../economics/break-even.ts';
import { breakEvenFinder } from '../economics/break-even.ts';
import type { Decision } from '../economics/decide.ts';
import type { Driver } from '../economics/drivers.ts';
import { drivers } from '../economics/drivers.ts';
import type { DrawnDecision } from '../economics/simulate.ts';
import { informationValuer } from '../economics/value-of-information.ts';
import type { LotQuestion } from './decide-lot.ts';
import type { ValuedInquiry } from './inquiries.ts';
import { lotInquiries, unknownMattes } from './inquiries.ts';
import { lotWhatIfs } from './lot-what-ifs.ts';

/** Options by name, as the sentences name them; no second where the first stands alone. */
export interface Contenders {
  first: string;
  second: string | null;
}

/** What lies behind a decision. Each part is null until it is worked out. */
export interface DecisionDepth {
  /** How much of the work is done, 0 to 1. */
  doneFrac: number;
  /** What finding out would be worth, before its cost; `perfect` bounds them all. */
  information: { perfect: number; inquiries: ValuedInquiry[] } | null;
  /** Where the order of the two best options turns; empty with a single option. */
  between: (Contenders & { breakEvens: BreakEven[] }) | null;
  /** Where the best option, if it pays, stops paying; otherwise where it begins to. */
  alone: { first: string; pays: boolean; breakEvens: BreakEven[] } | null;
  /** What the difference of the two best rests on; with a single option, what its net value rests on. */
  drivers: (Contenders & { drivers: Driver[] }) | null;
}

/** Nearest turning point first, in parts of the range looked at; those that never turn last, as they came. */
function nearestFirst(found: readonly BreakEven[]): BreakEven[] {
  const distance = ({ today, low, high, crossings: [crossing] }: BreakEven): number =>
    crossing === undefined ? Infinity : Math.abs(crossing - today) / Math.abs(high - low);
  return found.toSorted((a, b) => {
    const [near, far] = [distance(a), distance(b)];
    return near === far ? 0 : near - far;
  });
}

/**
 * Works out, piece by piece, what to find out next, where the two best options change places,
 * where the best stops paying, and what the difference rests on. Yields after every piece
 * what is known so far, so that whoever drives it can stop, or show it.
 */
export function* workDepth(
  question: LotQuestion,
  drawn: DrawnDecision,
  decision: Decision,
): Generator<DecisionDepth, DecisionDepth> {
  const { input, facts, assumptions } = question;
  const [best, next] = decision.options;
  let depth: DecisionDepth = { doneFrac: 0, information: null, between: null, alone: null, drivers: null };
  if (best === undefined) return { ...depth, doneFrac: 1 };
  const names: Contenders = { first: best.name, second: next?.name ?? null };

  const contest = (secondId: string | null) => {
    const finder = breakEvenFinder({ input, firstId: best.id, secondId, drawn });
    return finder && { ...finder, whatIfs: lotWhatIfs(finder.pair, facts, assumptions) };
  };
  const between = next === undefined ? null : contest(next.id);
  const alone = contest(null);
  const inquiries = lotInquiries(question, decision.options);
  const pieces = inquiries.length + (between?.whatIfs.length ?? 0) + (alone?.whatIfs.length ?? 0) + 1;
  let done = 0;
  const advance = (): DecisionDepth => {
    done += 1;
    depth = { ...depth, doneFrac: done / pieces };
    return depth;
  };

  const { perfect, valueOf } = informationValuer(drawn, unknownMattes(question, decision.options));
  const valued: ValuedInquiry[] = [];
  for (const { inquiry, costOf } of inquiries) {
    valued.push({ ...valueOf(inquiry), costOf });
    yield advance();
  }
  depth = { ...depth, information: { perfect, inquiries: valued } };

  const turnsBetween: BreakEven[] = [];
  for (const whatIf of between?.whatIfs ?? []) {
    turnsBetween.push(between!.find(whatIf));
    yield advance();
  }
  depth = { ...depth, between: { ...names, breakEvens: nearestFirst(turnsBetween) } };

  const turnsAlone: BreakEven[] = [];
  for (const whatIf of alone?.whatIfs ?? []) {
    turnsAlone.push(alone!.find(whatIf));
    yield advance();
  }
  depth = {
    ...depth,
    alone: { first: best.name, pays: best.netValue.mean >= 0, breakEvens: nearestFirst(turnsAlone) },
  };

  const found = drivers({ input, firstId: best.id, secondId: next?.id ?? null, drawn });
  depth = { ...depth, drivers: { ...names, drivers: found } };
  yield advance();
  return depth;
}

/** All of it at once. */
export function workDepthWhole(
  question: LotQuestion,
  drawn: DrawnDecision,
  decision: Decision,
): DecisionDepth {
  const work = workDepth(question, drawn, decision);
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
}
