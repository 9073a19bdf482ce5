import type { FileSettings } from '../../api/imports/cells.ts';
import type { FileKind } from '../../api/imports/file-kind.ts';
import { understandFile, type UnderstoodRow } from '../../api/imports/understand-file.ts';

export const plainSettings: FileSettings = { importDateOrder: 'iso', decimalComma: false };

/** Reads a file that is given as text. */
export async function understand<Row>(
  kind: FileKind<Row>,
  text: string,
  settings: FileSettings = plainSettings,
) {
  const rows: UnderstoodRow<Row>[] = [];
  const { problems, ...rest } = await understandFile<Row>({
    bytes: new TextEncoder().encode(text),
    kind,
    settings,
    watch: { report: () => {}, signal: new AbortController().signal },
    onRows: (some) => {
      rows.push(...some);
      return Promise.resolve();
    },
  });
  return {
    ...rest,
    rows,
    entries: rows.map(({ entry }) => entry),
    problems: problems.listed,
    problemCount: problems.count(),
  };
}
