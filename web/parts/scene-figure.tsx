import { useEffect, useId, useRef, useState } from 'react';
import type { Scene } from '../../reports/charts/scene.ts';
import type { TableBlock } from '../../reports/model/report.ts';
import { useOverflow } from '../lib/use-overflow.ts';
import { DataTable } from './data-table.tsx';
import { pixelsPerPoint, SceneSvg } from './scene-svg.tsx';

const narrowestPt = 240;
const widestPt = 540;

/** A chart drawn for the width at hand, with its figures as a table underneath. */
export function SceneFigure(props: { draw: (widthPt: number) => Scene; table: TableBlock }) {
  const { draw, table } = props;
  const figureRef = useRef<HTMLElement>(null);
  const [widthPt, setWidthPt] = useState<number | null>(null);
  useEffect(() => {
    const figure = figureRef.current;
    if (figure === null) return undefined;
    const observer = new ResizeObserver(() => {
      const available = Math.floor(figure.clientWidth / pixelsPerPoint);
      setWidthPt(Math.min(widestPt, Math.max(narrowestPt, available)));
    });
    observer.observe(figure);
    return () => observer.disconnect();
  }, []);
  const scene = draw(widthPt ?? narrowestPt);
  return (
    <figure className="scene-figure" ref={figureRef}>
      <figcaption>{scene.title}</figcaption>
      <SceneFrame scene={scene} />
      {table.rows.length === 0 ? null : (
        <details>
          <summary>Figures of this chart</summary>
          <DataTable caption={table.caption} columns={table.columns} rows={table.rows} />
        </details>
      )}
    </figure>
  );
}

/** A scene of a report: the narrow one where the other does not fit. */
export function FittingScene(props: { scene: Scene; narrow?: Scene }) {
  const { scene, narrow } = props;
  const frameRef = useRef<HTMLDivElement>(null);
  const [fits, setFits] = useState(true);
  useEffect(() => {
    const frame = frameRef.current;
    if (frame === null) return undefined;
    const observer = new ResizeObserver(() => setFits(frame.clientWidth >= scene.width * pixelsPerPoint - 1));
    observer.observe(frame);
    return () => observer.disconnect();
  }, [scene.width]);
  return (
    <div ref={frameRef}>
      <SceneFrame scene={fits || narrow === undefined ? scene : narrow} />
    </div>
  );
}

/** A scene of fixed width, which scrolls sideways where it is wider than the page. */
export function SceneFrame(props: { scene: Scene }) {
  const { scene } = props;
  const labelId = useId();
  const { ref, overflows } = useOverflow<HTMLDivElement>();
  const scrolling = overflows
    ? ({ role: 'region', 'aria-labelledby': labelId, tabIndex: 0 } as const)
    : undefined;
  return (
    <div className="scene-frame" ref={ref} {...scrolling}>
      <span id={labelId} className="visually-hidden">
        Chart: {scene.title}
      </span>
      <SceneSvg scene={scene} />
    </div>
  );
}
