import type { BatchNeeds } from '../../api/calc/books/batch-needs.ts';
import type { MeasuredMatte } from '../../api/calc/facts/measured-matte.ts';
import type { Finding } from '../../api/calc/finding.ts';
import type { ChargeSheet } from '../../api/calc/smelting/charge-sheet.ts';
import type { ChargeSheetInput } from '../../api/calc/smelting/charge-sheet-input.ts';

export interface ChargeSheetReportInput {
  batch: { code: string; plannedOn: string };
  lot: { code: string; description: string };
  treatmentName: string;
  millName: string;
  /** The recipe and the prices are those of this day. */
  asOf: string;
  /** Masses in all are given in pounds too where the owner works in them. */
  massUnit: 'kg' | 'lb';
  currency: string;
  /** What the sheet was worked from. */
  worked: ChargeSheetInput;
  /** Null where it could not be worked out: the findings say why. */
  sheet: ChargeSheet | null;
  findings: Finding[];
  /** Null without a sheet. */
  needs: BatchNeeds | null;
  /** What the test smelts of the lot by this treatment gave; null where none weighed it. */
  measuredMatte: MeasuredMatte | null;
  isDemo: boolean;
}
