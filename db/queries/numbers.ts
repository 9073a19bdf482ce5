/** A `numeric` column as a number, for weighings and estimates; null stays null. */
export function numberOf(text: string): number;
export function numberOf(text: string | null): number | null;
export function numberOf(text: string | null): number | null {
  return text === null ? null : Number(text);
}
