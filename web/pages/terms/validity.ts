/** From when until when terms are in force, in words: "from 1 May 2031 until further notice". */
export function validityText(
  { validFrom, validTo }: { validFrom: string; validTo: string | null },
  date: (isoDate: string) => string,
): string {
  return validTo === null
    ? `from ${date(validFrom)} until further notice`
    : `from ${date(validFrom)} to ${date(validTo)}`;
}
