import { fittingTicks, tickSizePt, valueScale } from './axis.ts';
import { fixedText } from './number-text.ts';
import type { Mark, Scene } from './scene.ts';
import { emptyScene, finishScene, fitText, sceneMargin, textWidth } from './scene-tools.ts';

export interface AmountsByMonth {
  title: string;
  unit: string;
  /** Short names of the two bars of a month: filled, and hatched. */
  names: readonly [filled: string, hatched: string];
  months: readonly { name: string; amounts: readonly [filled: number, hatched: number] }[];
}

const HEIGHT_PT = 120;

/** Two bars a month from zero, one filled and one hatched, so that they are told apart without colour. */
export function amountsByMonth(chart: AmountsByMonth, width: number): Scene {
  const { title, unit, names, months } = chart;
  if (months.length === 0) return emptyScene(title, width, 'No month to show yet.');
  const top = 34;
  const bottom = top + HEIGHT_PT;
  const scale = valueScale(
    months.flatMap(({ amounts }) => amounts),
    [bottom, top],
    { withZero: true },
  );
  const ticks = fittingTicks(scale, HEIGHT_PT, true);
  const left = sceneMargin + Math.max(0, ...ticks.map(({ label }) => textWidth(label, tickSizePt))) + 6;
  const right = width - sceneMargin;
  const step = (right - left) / months.length;
  const bar = Math.min(22, step * 0.36);
  const word = (
    text: string,
    x: number,
    y: number,
    anchor: 'start' | 'middle' | 'end',
    role: 'ink' | 'muted' = 'muted',
  ): Mark => ({ kind: 'text', x, y, text, sizePt: tickSizePt, role, anchor });
  const key = (x: number, hatched: boolean): Mark => ({
    kind: 'rect',
    x,
    y: 3,
    width: 9,
    height: 9,
    role: hatched ? 'loss' : 'best',
    filled: true,
    ...(hatched ? { hatched: true } : {}),
  });
  const second = sceneMargin + 13 + textWidth(names[0], tickSizePt) + 14;
  const marks: Mark[] = [
    key(sceneMargin, false),
    word(names[0], sceneMargin + 13, 11, 'start', 'ink'),
    key(second, true),
    word(names[1], second + 13, 11, 'start', 'ink'),
    word(fitText(unit, 60, tickSizePt), sceneMargin, 26, 'start'),
  ];
  for (const { value, label } of ticks) {
    const y = scale(value);
    const isZero = value === 0;
    marks.push(
      {
        kind: 'line',
        x1: left,
        y1: y,
        x2: right,
        y2: y,
        role: isZero ? 'muted' : 'grid',
        width: isZero ? 0.9 : 0.6,
      },
      word(label, left - 5, y + 3, 'end'),
    );
  }
  months.forEach(({ name, amounts }, index) => {
    const middle = left + step * (index + 0.5);
    amounts.forEach((amount, which) => {
      const [from, to] = [scale(Math.max(0, amount)), scale(Math.min(0, amount))];
      if (to - from < 0.05) return;
      const hatched = which === 1;
      marks.push({
        kind: 'rect',
        x: hatched ? middle + 1 : middle - bar - 1,
        y: from,
        width: bar,
        height: to - from,
        role: hatched ? 'loss' : 'best',
        filled: true,
        ...(hatched ? { hatched: true } : {}),
      });
    });
    marks.push(word(fitText(name, step - 2, tickSizePt), middle, bottom + 13, 'middle'));
  });
  return finishScene({
    width,
    height: bottom + 20,
    title,
    description: months
      .map(
        ({ name, amounts }) =>
          `${name}: ${names[0]} ${fixedText(amounts[0], 0)}, ${names[1]} ${fixedText(amounts[1], 0)} ${unit}.`,
      )
      .join(' '),
    marks,
  });
}
