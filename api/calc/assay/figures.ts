/** A number as it stands in a sentence: four significant figures, no exponent. */
export function figure(value: number, significantFigures = 4): string {
  return value.toLocaleString('en-US', { maximumSignificantDigits: significantFigures });
}

/** A fraction as a percentage in a sentence. */
export function percentFigure(frac: number): string {
  return `${figure(100 * frac, 3)} %`;
}
