import { useId } from 'react';
import type { Mark, Role, Scene } from '../../reports/charts/scene.ts';

/** CSS pixels in a typographic point. */
export const pixelsPerPoint = 4 / 3;

/**
 * Paints a scene as SVG. Roles become colours in the style sheet. It takes the
 * width it is given, up to the scene's own width in points.
 */
export function SceneSvg(props: { scene: Scene }) {
  const { scene } = props;
  const id = useId();
  const hatches = [
    ...new Set(scene.marks.flatMap((mark) => ('hatched' in mark && mark.hatched ? [mark.role] : []))),
  ];
  return (
    <svg
      className="scene"
      role="img"
      aria-labelledby={`${id}-title ${id}-description`}
      viewBox={`0 0 ${scene.width} ${scene.height}`}
      width={scene.width * pixelsPerPoint}
      height={scene.height * pixelsPerPoint}
    >
      <title id={`${id}-title`}>{scene.title}</title>
      <desc id={`${id}-description`}>{scene.description}</desc>
      <defs>
        {hatches.map((role) => (
          <pattern
            key={role}
            id={`${id}-hatch-${role}`}
            data-role={role}
            width={5}
            height={5}
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <line x1={0} y1={0} x2={0} y2={5} stroke="var(--mark)" strokeWidth={2.4} />
          </pattern>
        ))}
      </defs>
      {scene.marks.map((mark, index) => (
        <MarkShape key={index} mark={mark} hatch={(role) => `url(#${id}-hatch-${role})`} />
      ))}
    </svg>
  );
}

function MarkShape(props: { mark: Mark; hatch: (role: Role) => string }) {
  const { mark, hatch } = props;
  const colour = 'var(--mark)';
  switch (mark.kind) {
    case 'line':
      return (
        <line
          data-role={mark.role}
          x1={mark.x1}
          y1={mark.y1}
          x2={mark.x2}
          y2={mark.y2}
          stroke={colour}
          strokeWidth={mark.width}
          strokeDasharray={mark.dash?.join(' ')}
        />
      );
    case 'rect': {
      const fill = mark.hatched === true ? hatch(mark.role) : mark.filled ? colour : 'none';
      const outlined = mark.hatched === true || !mark.filled;
      return (
        <rect
          data-role={mark.role}
          x={mark.x}
          y={mark.y}
          width={mark.width}
          height={mark.height}
          fill={fill}
          stroke={outlined ? colour : 'none'}
          strokeWidth={outlined ? 0.8 : undefined}
        />
      );
    }
    case 'circle':
      return (
        <circle
          data-role={mark.role}
          cx={mark.x}
          cy={mark.y}
          r={mark.radius}
          fill={mark.filled ? colour : 'none'}
          stroke={mark.filled ? 'none' : colour}
          strokeWidth={1.2}
        />
      );
    case 'path':
      return (
        <path
          data-role={mark.role}
          d={mark.d}
          fill={mark.filled ? colour : 'none'}
          stroke={mark.filled ? 'none' : colour}
          strokeWidth={mark.width}
          strokeLinejoin="round"
          strokeDasharray={mark.dash?.join(' ')}
        />
      );
    case 'text':
      return (
        <text
          data-role={mark.role}
          x={mark.x}
          y={mark.y}
          fontSize={mark.sizePt}
          fontWeight={mark.bold === true ? 600 : 400}
          textAnchor={mark.anchor}
          fill={colour}
        >
          {mark.text}
        </text>
      );
  }
}
