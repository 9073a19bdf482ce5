import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const TOOLS = ['qpdf', 'pdftotext', 'pdfinfo', 'pdffonts'];

/**
 * Independent readers of PDF (qpdf, Poppler) that the tests hold our pages
 * against. Where they are missing the tests are left out and say so; on a
 * build server (CI set) they must be there.
 */
export function pdfToolsMissing(): boolean {
  const missing = TOOLS.filter((tool) => spawnSync(tool, ['--version']).error !== undefined);
  if (missing.length === 0) return false;
  const sentence = `PDF checks need ${missing.join(', ')} (packages qpdf and poppler-utils).`;
  if (process.env.CI !== undefined && process.env.CI !== '') throw new Error(sentence);
  process.stderr.write(`${sentence} They are left out.\n`);
  return true;
}

/** Runs a tool on the bytes and gives what it prints; throws where the tool finds fault. */
function run(tool: string, before: string[], bytes: Buffer, after: string[] = []): string {
  const folder = mkdtempSync(join(tmpdir(), 'report-'));
  try {
    const file = join(folder, 'report.pdf');
    writeFileSync(file, bytes);
    return execFileSync(tool, [...before, file, ...after], { encoding: 'utf8', maxBuffer: 64_000_000 });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Throws with qpdf's words where the file is not sound (warnings count too). */
export function checkSound(bytes: Buffer): void {
  run('qpdf', ['--check'], bytes);
}

/** The text of each page as it is laid out. */
export function pageTexts(bytes: Buffer): string[] {
  return run('pdftotext', ['-layout'], bytes, ['-']).split('\f').slice(0, -1);
}

/** All text in the order of the content, without any blanks, so that broken lines do not matter. */
export function textInOrder(bytes: Buffer): string {
  return withoutBlanks(run('pdftotext', ['-raw'], bytes, ['-']));
}

export function withoutBlanks(text: string): string {
  return text.replaceAll(/\s/g, '');
}

/** `Pages`, `Page size`, `Tagged` and so on, as pdfinfo names them. */
export function infoOf(bytes: Buffer): Record<string, string> {
  const lines = run('pdfinfo', [], bytes).split('\n');
  return Object.fromEntries(
    lines.map((line) => [line.split(':')[0] ?? '', line.split(':').slice(1).join(':').trim()]),
  );
}

/** Width and height of each page in points, as pdfinfo prints them: `841.89 x 595.28 pts (A4)`. */
export function pageSizesOf(bytes: Buffer): string[] {
  const lines = run('pdfinfo', ['-f', '1', '-l', '9999'], bytes).split('\n');
  return lines.flatMap((line) => /^Page +\d+ size: +(.+)$/.exec(line)?.[1] ?? []);
}

/** The structure tree with the text under each element. */
export function structureOf(bytes: Buffer): string {
  return run('pdfinfo', ['-struct-text'], bytes);
}

export function metadataOf(bytes: Buffer): string {
  return run('pdfinfo', ['-meta'], bytes);
}

/** One line for each font: name, type, encoding, embedded, subset, unicode. */
export function fontsOf(bytes: Buffer): string[] {
  return run('pdffonts', [], bytes).trim().split('\n').slice(2);
}

/** Every object of the file, as qpdf reads it. */
export function objectsOf(bytes: Buffer): string {
  return run('qpdf', ['--json=2'], bytes);
}
