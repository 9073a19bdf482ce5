/**
 * A table pasted from a spreadsheet has tabs between its cells; it becomes the same table with quotes and
 * commas (RFC 4180). What has no tabs is left as it is.
 */
export function csvOfPasted(text: string): string {
  if (!text.includes('\t')) return text;
  return text
    .split(/\r\n?|\n/)
    .map((line) =>
      line
        .split('\t')
        .map(
          (cell) =>
            `"${cell
              .replace(/^"([\s\S]*)"$/, '$1')
              .replaceAll('""', '"')
              .replaceAll('"', '""')}"`,
        )
        .join(','),
    )
    .join('\r\n');
}
