/** An estimate with the low and high between which it is expected, all in one unit. */
export interface Range {
  low: number;
  value: number;
  high: number;
}
