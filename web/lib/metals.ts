/** Metals that are quoted every day somewhere, with the unit in which that is usual. */
export const quotedMetals = [
  { symbol: 'Au', name: 'gold', unit: 'ozt' },
  { symbol: 'Ag', name: 'silver', unit: 'ozt' },
  { symbol: 'Pt', name: 'platinum', unit: 'ozt' },
  { symbol: 'Pd', name: 'palladium', unit: 'ozt' },
  { symbol: 'Cu', name: 'copper', unit: 't' },
  { symbol: 'Pb', name: 'lead', unit: 't' },
  { symbol: 'Zn', name: 'zinc', unit: 't' },
  { symbol: 'Sb', name: 'antimony', unit: 't' },
  { symbol: 'Bi', name: 'bismuth', unit: 't' },
  { symbol: 'Sn', name: 'tin', unit: 't' },
] as const;

/** `gold` for `Au`; the symbol itself where the list has no name for it. */
export function metalName(symbol: string): string {
  return quotedMetals.find((metal) => metal.symbol === symbol)?.name ?? symbol;
}
