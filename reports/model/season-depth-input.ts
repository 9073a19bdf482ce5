import type { EndRange } from '../../api/calc/books/season-end.ts';
import type { Figures } from '../../api/calc/books/book-entry.ts';
import type { MonthBatch } from './month-input.ts';
import type { OwnerUnits } from './owner-units.ts';

/** Recovery of gold to be expected of a treatment, with its standard deviation. */
export interface Expected {
  mean: number;
  sd: number;
}

/** What goes beyond lots, batches and statements: the whole mill in the season, and what it taught. */
export interface SeasonDepth {
  currency: string;
  units: OwnerUnits;
  /** Of the season's months up to today, corrections of closed months among them. */
  figures: Figures;
  /** Batches finished or settled in the season. */
  batches: MonthBatch[];
  /** Statements by buyer, in the mill's currency; decimal texts. */
  buyers: {
    name: string;
    statements: number;
    amount: string;
    payableGoldOzt: string;
    payableSilverOzt: string;
  }[];
  /** By what their batches have brought. */
  decisions: { lotCode: string; decidedOn: string; chosen: string; verdict: string; sentence: string }[];
  /** Gold recovery expected before the season's tests and now; lots behind each. */
  taught: { treatment: string; before: Expected; now: Expected; lotsBefore: number; lotsNow: number }[];
  /** What is least known: fixed sentences, the most money at stake first. */
  questions: string[];
  /** Null where the season is over. */
  end: {
    quantities: { label: string; unit: string; done: number; budget: number; end: EndRange }[];
    netValue: EndRange & { toDate: number; fromBatches: number; costsLeft: number };
    completeMonths: number;
  } | null;
}
