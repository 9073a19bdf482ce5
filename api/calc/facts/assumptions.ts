/** What the owner changes on the page to see the answer follow; null keeps what the records say. */
export interface Assumptions {
  goldPricePerOzt: number | null;
  silverPricePerOzt: number | null;
  annualVolatilityGoldFrac: number | null;
  annualVolatilitySilverFrac: number | null;
  wagePerHour: number | null;
  leadPricePerKg: number | null;
  fuelPriceFactor: number;
  reagentPriceFactor: number;
  /** Added to every treatment's gold recovery, in fractions of the whole. */
  goldRecoveryShiftFrac: number;
  /** Freight and assays of a sale that the buyer's terms do not charge, in the mill's currency. */
  saleFreightAndAssays: number;
  drawCount: number;
  seed: number;
}
