import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A directory as the build leaves it, with a front page and one script; removed when the tests end. */
export function builtPages(): string {
  const directory = mkdtempSync(join(tmpdir(), 'poursheet-pages-'));
  process.once('exit', () => rmSync(directory, { recursive: true, force: true }));
  mkdirSync(join(directory, 'assets'));
  writeFileSync(join(directory, 'index.html'), '<title>front page</title>');
  writeFileSync(join(directory, 'assets', 'page-1a2b.js'), 'export {};');
  return directory;
}
