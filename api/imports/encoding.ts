import { isUtf8 } from 'node:buffer';

const LINE_FEED = 0x0a;
const SAVE_AS = 'Save it as CSV in UTF-8 (in a spreadsheet: "CSV UTF-8") and choose that file.';

/** Files that are often chosen in place of their CSV, by their first bytes. */
const OTHER_FORMATS: { begins: number[]; sentence: string }[] = [
  {
    begins: [0x50, 0x4b, 0x03, 0x04],
    sentence: `The file is a spreadsheet workbook or an archive, not CSV. ${SAVE_AS}`,
  },
  { begins: [0x50, 0x4b, 0x05, 0x06], sentence: `The file is an empty archive, not CSV. ${SAVE_AS}` },
  { begins: [0x1f, 0x8b], sentence: 'The file is packed, not CSV. Unpack it and choose the file within.' },
  {
    begins: [0xd0, 0xcf, 0x11, 0xe0],
    sentence: `The file is an old spreadsheet workbook, not CSV. ${SAVE_AS}`,
  },
  { begins: [0x25, 0x50, 0x44, 0x46], sentence: 'The file is a PDF, not CSV.' },
  { begins: [0xff, 0xfe], sentence: `The file is text in UTF-16. ${SAVE_AS}` },
  { begins: [0xfe, 0xff], sentence: `The file is text in UTF-16. ${SAVE_AS}` },
];

/** Why the bytes are no text in UTF-8, as a sentence for the owner; null when they are. */
export function encodingFault(bytes: Uint8Array): string | null {
  if (bytes.length === 0) return 'The file is empty.';
  for (const { begins, sentence } of OTHER_FORMATS)
    if (begins.every((byte, at) => bytes[at] === byte)) return sentence;
  const nul = bytes.indexOf(0);
  if (nul >= 0)
    return looksLikeUtf16(bytes)
      ? `The file is text in UTF-16. ${SAVE_AS}`
      : `The file holds a NUL byte on line ${lineOf(bytes, nul)}, so it is no text file. ${SAVE_AS}`;
  if (!isUtf8(bytes))
    return `Line ${firstLineThatIsNotUtf8(bytes)} is not in UTF-8, so letters such as é would be lost. ${SAVE_AS}`;
  return null;
}

/** Latin letters in UTF-16 have a zero in every second byte. */
function looksLikeUtf16(bytes: Uint8Array): boolean {
  const begin = bytes.subarray(0, 200);
  const zeros = [0, 0];
  begin.forEach((byte, at) => {
    if (byte === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  return Math.max(even, odd) > begin.length / 4 && Math.min(even, odd) < begin.length / 40;
}

function lineOf(bytes: Uint8Array, position: number): number {
  let line = 1;
  for (let at = 0; at < position; at += 1) if (bytes[at] === LINE_FEED) line += 1;
  return line;
}

/** A line feed is never part of a longer UTF-8 character, so that each line can be looked at alone. */
function firstLineThatIsNotUtf8(bytes: Uint8Array): number {
  let from = 0;
  for (let line = 1; ; line += 1) {
    const to = bytes.indexOf(LINE_FEED, from);
    if (to < 0 || !isUtf8(bytes.subarray(from, to))) return line;
    from = to + 1;
  }
}
