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

/** The unit that sentences tell grades in, and how much of g/t one of it is. */
export interface GradeUnit {
  name: string;
  gpt: number;
}

export const gptUnit: GradeUnit = { name: 'g/t', gpt: 1 };

/** A grade in g/t as a number of the reader's unit, without its name. */
export function gradeFigure(gradeGpt: number, unit: GradeUnit, significantFigures = 4): string {
  return figure(gradeGpt / unit.gpt, significantFigures).replace('-', '−');
}
