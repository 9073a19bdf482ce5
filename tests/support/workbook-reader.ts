import { strFromU8, unzipSync } from 'fflate';

/** A cell as the file has it: its type, and its value as a text. */
export interface ReadCell {
  type: 'text' | 'number' | 'day';
  value: string;
}

const entity: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const plain = (xml: string): string =>
  xml.replace(/&(#x?[0-9a-f]+|\w+);/gi, (whole, name: string) =>
    name.startsWith('#x')
      ? String.fromCodePoint(Number.parseInt(name.slice(2), 16))
      : name.startsWith('#')
        ? String.fromCodePoint(Number(name.slice(1)))
        : (entity[name] ?? whole),
  );
const attribute = (tag: string, name: string): string | undefined =>
  new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1];

/** Place of a cell's column from 0, by its letters. */
function columnOf(reference: string): number {
  let column = 0;
  for (const letter of reference.replace(/\d+$/, '')) column = 26 * column + letter.charCodeAt(0) - 64;
  return column - 1;
}

/**
 * The sheets of a workbook as stored values, read apart from the library that wrote it (ISO/IEC 29500-1:2016, 18.3,
 * 18.4, 18.8). A formula, or an active part such as a macro or a link outwards, is an error.
 */
export function readWorkbook(bytes: Uint8Array): Map<string, (ReadCell | null)[][]> {
  const files = unzipSync(bytes);
  const file = (name: string): string => {
    const found = files[name];
    if (found === undefined) throw new Error(`The workbook has no ${name}.`);
    return strFromU8(found);
  };
  for (const name of Object.keys(files))
    if (/vbaProject|externalLink|oleObject|connections/i.test(name))
      throw new Error(`${name} is in the workbook.`);
  const shared = [...file('xl/sharedStrings.xml').matchAll(/<si>([\s\S]*?)<\/si>/g)].map(([, item = '']) =>
    plain([...item.matchAll(/<t[^>]*>([\s\S]*?)<\/t>/g)].map(([, text = '']) => text).join('')),
  );
  const styles = file('xl/styles.xml');
  const dayFormats = new Set(
    [...styles.matchAll(/<numFmt [^>]*>/g)].flatMap(([tag]) =>
      attribute(tag, 'formatCode') === 'yyyy-mm-dd' ? [attribute(tag, 'numFmtId')] : [],
    ),
  );
  const cellStyles = /<cellXfs[^>]*>([\s\S]*?)<\/cellXfs>/.exec(styles)?.[1] ?? '';
  const isDay = [...cellStyles.matchAll(/<xf [^>]*>/g)].map(([tag]) =>
    dayFormats.has(attribute(tag, 'numFmtId')),
  );
  const sheets = new Map<string, (ReadCell | null)[][]>();
  for (const [tag] of file('xl/workbook.xml').matchAll(/<sheet [^>]*>/g)) {
    const relation = attribute(tag, 'r:id') ?? '';
    const link = [...file('xl/_rels/workbook.xml.rels').matchAll(/<Relationship [^>]*>/g)]
      .map(([one]) => one)
      .find((one) => attribute(one, 'Id') === relation);
    const xml = file(`xl/${attribute(link ?? '', 'Target') ?? ''}`);
    if (/<f[\s>]/.test(xml)) throw new Error('There is a formula in the workbook.');
    const rows = [...xml.matchAll(/<row [^>]*?(?:\/>|>([\s\S]*?)<\/row>)/g)].map(([, row = '']) => {
      const cells: (ReadCell | null)[] = [];
      for (const [, head = '', body = ''] of row.matchAll(/<c ([^>]*?)(?:\/>|>([\s\S]*?)<\/c>)/g)) {
        const value = /<v>([\s\S]*?)<\/v>/.exec(body)?.[1];
        if (value === undefined) continue;
        const at = columnOf(attribute(` ${head}`, 'r') ?? '');
        while (cells.length < at) cells.push(null);
        if (attribute(` ${head}`, 't') === 's')
          cells.push({ type: 'text', value: shared[Number(value)] ?? '' });
        else if (isDay[Number(attribute(` ${head}`, 's') ?? 0)] === true)
          // Serial days: 25569 is 1970-01-01 (18.17.4.1, the 1900 date base).
          cells.push({
            type: 'day',
            value: new Date((Number(value) - 25_569) * 86_400_000).toISOString().slice(0, 10),
          });
        else cells.push({ type: 'number', value });
      }
      return cells;
    });
    sheets.set(plain(attribute(tag, 'name') ?? ''), rows);
  }
  return sheets;
}
