/** Something that is painted whole, at one height, on one page. */
export interface Piece {
  heightPt: number;
  /** Space above, dropped where the piece opens a page. */
  gapBeforePt: number;
  /** Must not be parted from the piece that follows. */
  keepWithNext: boolean;
  /** Painted above the piece whenever it opens a page: a table's head. */
  repeated?: { heightPt: number; paint: (topPt: number) => void };
  paint: (topPt: number) => void;
}

/**
 * Sets pieces one below the other between `topPt` and `bottomPt`, turning the
 * page where the next group of pieces that belong together does not fit. A
 * group higher than a page is parted between its pieces.
 */
export function flow(args: {
  pieces: Piece[];
  /** Where the first page starts, and where every other does. */
  firstTopPt: number;
  topPt: number;
  bottomPt: number;
  newPage: () => void;
}): void {
  const { pieces, topPt, bottomPt, newPage } = args;
  let y = args.firstTopPt;
  let opensPage = false;
  const place = (piece: Piece): void => {
    if (opensPage && piece.repeated !== undefined) {
      piece.repeated.paint(y);
      y += piece.repeated.heightPt;
    } else if (!opensPage) y += piece.gapBeforePt;
    piece.paint(y);
    y += piece.heightPt;
    opensPage = false;
  };
  const turnPage = (): void => {
    newPage();
    y = topPt;
    opensPage = true;
  };
  for (const group of groupsOf(pieces)) {
    const fits = y + heightOf(group) <= bottomPt;
    if (!fits && !opensPage) {
      const fitsOnOwnPage = topPt + heightOnNewPage(group) <= bottomPt;
      if (fitsOnOwnPage) turnPage();
    }
    for (const piece of group) {
      if (!opensPage && y + piece.gapBeforePt + piece.heightPt > bottomPt + 0.01) turnPage();
      place(piece);
    }
  }
}

function groupsOf(pieces: Piece[]): Piece[][] {
  const groups: Piece[][] = [];
  let group: Piece[] = [];
  for (const piece of pieces) {
    group.push(piece);
    if (piece.keepWithNext) continue;
    groups.push(group);
    group = [];
  }
  if (group.length > 0) groups.push(group);
  return groups;
}

function heightOf(group: Piece[]): number {
  return group.reduce((sum, piece) => sum + piece.gapBeforePt + piece.heightPt, 0);
}

function heightOnNewPage(group: Piece[]): number {
  const first = group[0];
  if (first === undefined) return 0;
  return heightOf(group) - first.gapBeforePt + (first.repeated?.heightPt ?? 0);
}
