import { readFileSync, writeFileSync } from 'node:fs';
import { gunzipSync, gzipSync } from 'node:zlib';
import type { BackupHeader } from '../../db/backup/format.ts';

/** A backup unpacked, read apart from the program's own reader. */
export function backupLines(path: string): { header: BackupHeader; rows: string[]; trailer: string } {
  const lines = gunzipSync(readFileSync(path)).toString('utf8').split('\n');
  if (lines.pop() !== '') throw new Error('The backup does not end with a line.');
  const [first = '', ...rows] = lines;
  const trailer = rows.pop() ?? '';
  return { header: JSON.parse(first) as BackupHeader, rows, trailer };
}

/** Writes lines as a backup has them, whatever they say. */
export function writeLines(path: string, lines: readonly string[]): void {
  writeFileSync(path, gzipSync(lines.map((line) => `${line}\n`).join('')));
}
