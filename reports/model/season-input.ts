import type { Finding } from '../../api/calc/finding.ts';
import type { Scene } from '../charts/scene.ts';
import type { SeasonDepth } from './season-depth-input.ts';
import type { StatementStage } from './statement-input.ts';

/** 10th, 50th and 90th percentile of a forecast frozen when its batch was planned. */
export interface ForecastRange {
  p10: number;
  p50: number;
  p90: number;
}

export interface SeasonLot {
  code: string;
  description: string;
  /** Decimal texts, kg dry. */
  dryMassKg: string;
  takenKg: string;
  leftKg: string;
  /** Null where the grade is not known. */
  goldGpt: ForecastRange | null;
  silverGpt: ForecastRange | null;
}

export interface SeasonBatch {
  code: string;
  lotCode: string;
  treatment: string;
  /** Decimal text, kg dry. */
  dryMassKg: string;
  /** In the season's currency; null where none was frozen. */
  forecastNetValue: ForecastRange | null;
  /** Decimal text in the season's currency with the stage of the statement it rests on; null while there is none. */
  actualNetValue: { amount: string; stage: StatementStage } | null;
  forecastGoldOzt: ForecastRange | null;
  /** Decimal text, troy ounces; null until weighed and assayed. */
  actualGoldOzt: string | null;
  forecastSilverOzt: ForecastRange | null;
  actualSilverOzt: string | null;
}

export interface SeasonSettlement {
  number: string;
  stage: StatementStage;
  buyer: string;
  issuedOn: string;
  /** Decimal text: what is due to the season on this statement, what earlier statements paid already taken off. */
  amount: string;
  currency: string;
}

export interface SeasonReportInput {
  season: { name: string; startsOn: string; endsOn: string };
  millName: string;
  /** Everything in the report is as of the end of this day. */
  asOf: string;
  currency: string;
  moneyDecimals: number;
  lots: SeasonLot[];
  batches: SeasonBatch[];
  settlements: SeasonSettlement[];
  /** Null before the season begins. */
  depth: SeasonDepth | null;
  /** Decimal texts in the season's currency, positive. */
  costs: { kind: string; amount: string }[];
  charts: { scene: Scene; narrow?: Scene }[];
  /** In which gold and silver are shown. */
  metalUnit: 'g' | 'ozt';
  findings: Finding[];
  /** Sentences, each boxed as a caution. */
  cautions: string[];
  isDemo: boolean;
}
