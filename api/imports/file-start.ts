export type Separator = ',' | ';';

/** Where the table begins and what its cells are separated by. */
export interface FileStart {
  /** The bytes from the header on. */
  table: Uint8Array;
  /** Line of the file, the first being 1, on which the header is. */
  headerRow: number;
  separator: Separator;
}

/** As far as a header may reach; more is refused when it is read. */
const HEADER_BYTES = 100_000;
const TABS = 'The file has its cells separated by tabs. Save it as CSV, with commas or semicolons.';

/**
 * Finds the table: behind a byte order mark, a line `sep=;` as spreadsheets write it, and empty lines. The
 * separator is the one that line names, otherwise the one of comma and semicolon that the header has more of
 * outside quotes. The bytes are text in UTF-8; a sentence says why no table can be read from them.
 */
export function fileStart(bytes: Uint8Array): FileStart | string {
  const withoutMark = bytes.subarray(startsWithMark(bytes) ? 3 : 0);
  let text = new TextDecoder().decode(withoutMark.subarray(0, HEADER_BYTES));
  let headerRow = 1;
  let skipped = 0;
  let named: string | undefined;
  const skip = (length: number, lines: number): void => {
    skipped += length;
    headerRow += lines;
    text = text.slice(length);
  };

  const sep = /^"?sep=(.)"?[;,]*(\r\n|\r|\n|$)/i.exec(text);
  if (sep !== null) {
    named = sep[1];
    if (named === '\t') return TABS;
    if (named !== ',' && named !== ';')
      return `The file says in its first line that cells are separated by "${named}". Only commas and semicolons are read.`;
    skip(sep[0].length, 1);
  }
  for (let empty = emptyLine(text); empty !== null; empty = emptyLine(text)) skip(empty.length, 1);
  if (/^[\s,;]*$/.test(text)) return 'The file is empty.';

  const separator = named ?? separatorOf(text);
  if (separator === '\t') return TABS;
  // What was skipped is plain ASCII, so that it is as many bytes as characters.
  return { table: withoutMark.subarray(skipped), headerRow, separator: separator === ';' ? ';' : ',' };
}

function startsWithMark(bytes: Uint8Array): boolean {
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
}

function emptyLine(text: string): string | null {
  return /^[ \t,;]*(\r\n|\r|\n)/.exec(text)?.[0] ?? null;
}

function separatorOf(text: string): Separator | '\t' {
  const count = { ',': 0, ';': 0, '\t': 0 };
  let quoted = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    else if (quoted) continue;
    else if (character === '\n' || character === '\r') break;
    else if (character === ',' || character === ';' || character === '\t') count[character] += 1;
  }
  if (count[','] + count[';'] === 0 && count['\t'] > 0) return '\t';
  return count[';'] > count[','] ? ';' : ',';
}
