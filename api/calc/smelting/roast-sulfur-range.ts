import type { MineralShare } from './minerals.ts';
import { galenaSulfateChange, mineralRoastChange } from './roast.ts';

/** Mass lost and sulfur driven off, as fractions of the lot before the roast. */
interface Point {
  loss: number;
  sulfur: number;
}

const sumOf = (points: readonly (Point | undefined)[]): Point => ({
  loss: points.reduce((sum, point) => sum + (point?.loss ?? 0), 0),
  sulfur: points.reduce((sum, point) => sum + (point?.sulfur ?? 0), 0),
});

/** What may become of one mineral's share: untouched, roasted to the oxide, galena also to the sulfate. */
function outcomes({ mineral, massFrac }: MineralShare): Point[] {
  const changes = [mineralRoastChange(mineral), ...(mineral === 'galena' ? [galenaSulfateChange()] : [])];
  const roasted = changes.map((change) => ({
    loss: -massFrac * change.massChangeFrac,
    sulfur: massFrac * change.sulfurDrivenOffFrac,
  }));
  return [{ loss: 0, sulfur: 0 }, ...roasted].toSorted((a, b) => a.loss - b.loss);
}

/** Edges of the upper (side 1) or lower (side −1) hull of points that are sorted by loss. */
function hullEdges(points: readonly Point[], side: 1 | -1): Point[] {
  const hull: Point[] = [];
  for (const point of points) {
    for (let a = hull.at(-2), b = hull.at(-1); a && b; a = hull.at(-2), b = hull.at(-1)) {
      const turn =
        (b.loss - a.loss) * (point.sulfur - a.sulfur) - (b.sulfur - a.sulfur) * (point.loss - a.loss);
      if (side * turn < 0) break;
      hull.pop();
    }
    hull.push(point);
  }
  return hull
    .slice(1)
    .map((point, index) => ({
      loss: point.loss - (hull[index]?.loss ?? 0),
      sulfur: point.sulfur - (hull[index]?.sulfur ?? 0),
    }))
    .filter((edge) => edge.loss > 0);
}

/** The least and the largest mass that the minerals can lose; a gain is negative. */
export function roastLossLimits(minerals: readonly MineralShare[]): { least: number; most: number } {
  const sorted = minerals.map(outcomes);
  return {
    least: sumOf(sorted.map((points) => points[0])).loss,
    most: sumOf(sorted.map((points) => points.at(-1))).loss,
  };
}

/**
 * The most (side 1) or the least (side −1) sulfur that can go with a loss, whichever minerals have roasted
 * and how far. Each share lies somewhere in the hull of its outcomes, so the lot lies in their Minkowski sum:
 * its boundary is the edges of all hulls laid end to end in order of slope.
 */
export function extremeSulfurFrac({
  minerals,
  lossFrac,
  side,
}: {
  minerals: readonly MineralShare[];
  lossFrac: number;
  side: 1 | -1;
}): number {
  const sorted = minerals.map(outcomes);
  let { loss, sulfur } = sumOf(sorted.map((points) => points[0]));
  const edges = sorted
    .flatMap((points) => hullEdges(points, side))
    .toSorted((a, b) => side * (b.sulfur / b.loss - a.sulfur / a.loss));
  for (const edge of edges) {
    const taken = Math.min(1, Math.max(0, (lossFrac - loss) / edge.loss));
    loss += taken * edge.loss;
    sulfur += taken * edge.sulfur;
  }
  return sulfur;
}
