import type { Mark, Scene } from '../../reports/charts/scene.ts';
import { textWidth } from '../../reports/charts/scene-tools.ts';

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

function boxOf(mark: Mark): Box {
  switch (mark.kind) {
    case 'line':
      return {
        left: Math.min(mark.x1, mark.x2),
        right: Math.max(mark.x1, mark.x2),
        top: Math.min(mark.y1, mark.y2),
        bottom: Math.max(mark.y1, mark.y2),
      };
    case 'rect':
      return { left: mark.x, right: mark.x + mark.width, top: mark.y, bottom: mark.y + mark.height };
    case 'circle':
      return {
        left: mark.x - mark.radius,
        right: mark.x + mark.radius,
        top: mark.y - mark.radius,
        bottom: mark.y + mark.radius,
      };
    case 'path': {
      const pairs = [...mark.d.matchAll(/(-?[\d.]+),(-?[\d.]+)/g)];
      const xs = pairs.map((pair) => Number(pair[1]));
      const ys = pairs.map((pair) => Number(pair[2]));
      return {
        left: Math.min(...xs),
        right: Math.max(...xs),
        top: Math.min(...ys),
        bottom: Math.max(...ys),
      };
    }
    case 'text': {
      const width = textWidth(mark.text, mark.sizePt, mark.bold ?? false);
      const left =
        mark.anchor === 'start' ? mark.x : mark.anchor === 'end' ? mark.x - width : mark.x - width / 2;
      return { left, right: left + width, top: mark.y - mark.sizePt, bottom: mark.y + 0.25 * mark.sizePt };
    }
  }
}

/** The marks of a scene that reach out of its frame, or have a coordinate that is not a number. */
export function marksOutside(scene: Scene): Mark[] {
  const slack = 0.2;
  return scene.marks.filter((mark) => {
    const box = boxOf(mark);
    const inside =
      box.left >= -slack &&
      box.right <= scene.width + slack &&
      box.top >= -slack &&
      box.bottom <= scene.height + slack;
    const upright = mark.kind !== 'rect' || (mark.width >= 0 && mark.height >= 0);
    return !inside || !upright;
  });
}

/** All texts of a scene in the order in which they were drawn. */
export function textsOf(scene: Scene): string[] {
  return scene.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));
}

/** Whether every coordinate has at most one decimal. */
export function isRoundedToTenths(scene: Scene): boolean {
  return [...JSON.stringify(scene.marks).matchAll(/"(?:x|y|x1|x2|y1|y2|radius)":(-?[\d.e-]+)/g)].every(
    ([, number]) => /^-?\d+(\.\d)?$/.test(number ?? ''),
  );
}
