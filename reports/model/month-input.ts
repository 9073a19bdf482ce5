import type { ForecastSplit } from '../../api/calc/books/split-forecast.ts';
import type { Figures } from '../../api/calc/books/book-entry.ts';
import type { Correction } from '../../api/calc/books/corrections.ts';
import type { MillMetalAccount, MillState } from '../../api/calc/books/mill-account.ts';
import type { Scene } from '../charts/scene.ts';
import type { TwoProduct } from '../../api/calc/books/two-product.ts';
import type { Metal } from '../../api/calc/evidence/lot-evidence.ts';
import type { Finding } from '../../api/calc/finding.ts';
import type { Measured } from '../../api/calc/measured.ts';
import type { OwnerUnits } from './owner-units.ts';
import type { ForecastRange } from './season-input.ts';
import type { StatementStage } from './statement-input.ts';

/** A batch that was finished, or of which a statement was issued, in the month. */
export interface MonthBatch {
  code: string;
  lotCode: string;
  treatment: string;
  /** The concentrate was sold as it is. */
  isSale: boolean;
  /** Decimal text, kg dry. */
  dryMassKg: string;
  finishedInMonth: boolean;
  settledInMonth: boolean;
  metals: Record<
    Metal,
    {
      inG: Measured | null;
      outG: Measured | null;
      recoveryFrac: Measured | null;
      /** As it was forecast, with its standard uncertainty; null where not kept. */
      forecastRecoveryFrac: Measured | null;
    }
  >;
  costTotal: string;
  forecastNetValue: ForecastRange | null;
  /** By what was settled up to the end of the month; null while nothing was. Decimal text. */
  actualNetValue: { amount: string; stage: StatementStage } | null;
  /** Actual less the forecast's mean, by cause; null where it cannot be told. */
  split: ForecastSplit | null;
  /** Of all kinds. */
  productCount: number;
}

export interface MonthSupply {
  name: string;
  unit: string;
  quantity: string;
  value: string;
}

export interface MetalOfMonth {
  /** Null where nothing came in, went out or lay there. */
  account: MillMetalAccount;
  /** What the forecasts of the batches finished leave in slag, matte and fume, g; null where one was not kept. */
  forecastLossG: Measured | null;
  /** Found in matte, slag and lead made in the month, by their own assays, g. */
  byProductsG: number;
  /** In bars, beads and buttons, and in parcels, at the mill and with buyers at the end, g. */
  inProductsG: Record<'bar' | 'parcel', number>;
  /** Payable share of what was settled in the year so far, by products of a kind; null where nothing was. */
  payableFrac: Partial<Record<'bar' | 'parcel', number>>;
}

export interface MonthReportInput {
  /** `2026-07`. */
  month: string;
  /** The day up to which it is told: the last of the month, or today while it runs. */
  upTo: string;
  isOver: boolean;
  millName: string;
  currency: string;
  units: OwnerUnits;
  /** Corrections are in both, each once. */
  figures: { month: Figures; year: Figures };
  feed: {
    /** Feed and tailings by their assays, g/t gold, and the concentrate by its lots; null where not assayed. */
    grades: Record<'feed' | 'concentrate' | 'tailings', Measured> | null;
    twoProduct: TwoProduct | null;
    findings: Finding[];
  };
  batches: MonthBatch[];
  metals: Record<Metal, MetalOfMonth>;
  stock: { closing: MillState; supplies: MonthSupply[] };
  corrections: (Correction & { changedOn: string | null; changedBy: string | null })[];
  /** Months of the year up to this one, oldest first; decimal texts. */
  byMonth: { month: string; settled: string; costs: string }[];
  charts: { scene: Scene; narrow?: Scene }[];
  closed: { on: string; by: string } | null;
  findings: Finding[];
  cautions: string[];
  isDemo: boolean;
}
