/** Width of a piece of text in points, in one type style: of words, the sum of each with the space behind it. */
export type MeasureText = (text: string) => number;

/**
 * Breaks text into lines no wider than `widthPt`: at line feeds, at spaces,
 * and inside a word only where the word alone is wider than the line (after a
 * hyphen or a slash where it has one). Never loses a character other than the
 * spaces at which it breaks.
 */
export function wrapText(text: string, widthPt: number, measure: MeasureText): string[] {
  return text.split('\n').flatMap((paragraph) => wrapParagraph(paragraph, widthPt, measure));
}

function wrapParagraph(paragraph: string, widthPt: number, measure: MeasureText): string[] {
  const lines: string[] = [];
  let line = '';
  /** Width of the line with a space behind it. */
  let linePt = 0;
  for (const word of paragraph.split(' ').filter((word) => word !== '')) {
    if (linePt + measure(word) <= widthPt) {
      line = line === '' ? word : `${line} ${word}`;
      linePt += measure(`${word} `);
      continue;
    }
    if (line !== '') lines.push(line);
    const parts = breakWord(word, widthPt, measure);
    lines.push(...parts.slice(0, -1));
    line = parts.at(-1) ?? '';
    linePt = measure(`${line} `);
  }
  lines.push(line);
  return lines;
}

/** A word cut to the width; a single sign that is wider than the line stands alone. */
function breakWord(word: string, widthPt: number, measure: MeasureText): string[] {
  const parts: string[] = [];
  let rest = Array.from(word);
  while (rest.length > 1 && measure(rest.join('')) > widthPt) {
    let count = 1;
    while (count < rest.length - 1 && measure(rest.slice(0, count + 1).join('')) <= widthPt) count += 1;
    const seam = rest.slice(0, count).findLastIndex((sign) => sign === '-' || sign === '/') + 1;
    const cut = seam > 1 ? seam : count;
    parts.push(rest.slice(0, cut).join(''));
    rest = rest.slice(cut);
  }
  parts.push(rest.join(''));
  return parts;
}
