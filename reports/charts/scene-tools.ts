import type { Mark, Scene } from './scene.ts';

export const ellipsis = '…';

/** Free space that every scene keeps along its edge, in points. */
export const sceneMargin = 1;

const narrowCharacters = /[ .,:;|'ijlI!()\u00a0]/;
const wideCharacters = /[mwMW%@—]/;

/**
 * Width of a text in points, estimated from broad classes of letters and a
 * little on the generous side: a scene is built where nothing can be measured.
 */
export function textWidth(text: string, sizePt: number, bold = false): number {
  let ems = 0;
  for (const character of text) {
    if (narrowCharacters.test(character)) ems += 0.3;
    else if (wideCharacters.test(character)) ems += 0.86;
    else if (/[A-Z]/.test(character)) ems += 0.62;
    else ems += 0.53;
  }
  return ems * sizePt * (bold ? 1.06 : 1);
}

/** The text itself where it fits, otherwise its beginning and an ellipsis. */
export function fitText(text: string, maxWidth: number, sizePt: number, bold = false): string {
  if (textWidth(text, sizePt, bold) <= maxWidth) return text;
  const characters = Array.from(text);
  while (characters.length > 0) {
    const shortened = characters.join('').trimEnd() + ellipsis;
    if (textWidth(shortened, sizePt, bold) <= maxWidth) return shortened;
    characters.pop();
  }
  return ellipsis;
}

/** The text over at most `maxLines` lines, broken at spaces; what is left over is cut with an ellipsis. */
export function wrapText(
  text: string,
  maxWidth: number,
  sizePt: number,
  maxLines: number,
  bold = false,
): string[] {
  const words = text.split(/\s+/).filter((word) => word !== '');
  const lines: string[] = [];
  while (words.length > 0) {
    if (lines.length === maxLines - 1) {
      lines.push(fitText(words.join(' '), maxWidth, sizePt, bold));
      break;
    }
    let line = words.shift() ?? '';
    while (words.length > 0 && textWidth(`${line} ${words[0]}`, sizePt, bold) <= maxWidth) {
      line += ` ${words.shift()}`;
    }
    lines.push(fitText(line, maxWidth, sizePt, bold));
  }
  return lines;
}

const roundTenth = (value: number): number => {
  const rounded = Math.round(value * 10) / 10;
  return rounded === 0 ? 0 : rounded;
};

function roundMark(mark: Mark): Mark {
  if (mark.kind === 'path') return mark;
  const rounded: Record<string, unknown> = { ...mark };
  for (const key of ['x', 'y', 'x1', 'y1', 'x2', 'y2', 'width', 'height', 'radius']) {
    const value = rounded[key];
    if (typeof value === 'number') rounded[key] = roundTenth(value);
  }
  return rounded as Mark;
}

/** A scene with every coordinate rounded to a tenth of a point; paths are written rounded by whoever draws them. */
export function finishScene(scene: Scene): Scene {
  return {
    ...scene,
    width: roundTenth(scene.width),
    height: roundTenth(scene.height),
    marks: scene.marks.map(roundMark),
  };
}

/** A small scene that says that there is nothing to draw. */
export function emptyScene(title: string, width: number, sentence: string): Scene {
  const sizePt = 10;
  const lines = wrapText(sentence, width - 2 * sceneMargin, sizePt, 2);
  return finishScene({
    width,
    height: 20 + lines.length * 13,
    title,
    description: sentence,
    marks: lines.map((text, index) => ({
      kind: 'text',
      x: sceneMargin,
      y: 20 + index * 13,
      text,
      sizePt,
      role: 'muted',
      anchor: 'start',
    })),
  });
}

/** A closed path through points, coordinates rounded to a tenth. */
export function polygonPath(points: readonly (readonly [number, number])[]): string {
  return `M${points.map(([x, y]) => `${roundTenth(x)},${roundTenth(y)}`).join('L')}Z`;
}
