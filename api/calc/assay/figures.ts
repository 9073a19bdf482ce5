/** A number as it stands in a sentence: four significant figures, no exponent. */
export function figure(value: number, significantFigures = 4): string {
  return value.toLocaleString('en-US', { maximumSignificantDigits: significantFigures });
}

/** A fraction as a percentage in a sentence. */
export function percentFigure(frac: number): string {
  return `${figure(100 * frac, 3)} %`;
}

/** A probability in a sentence; below a tenth of a percent the figures mean nothing. */
export function chanceFigure(probability: number): string {
  if (probability < 0.001) return 'less than 0.1 %';
  return probability > 0.999 ? 'more than 99.9 %' : percentFigure(probability);
}
