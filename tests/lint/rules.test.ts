import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const imports = 'eslint(no-restricted-imports)';

/** Folder, what it imports, and whether its place allows that. */
const importRule: [folder: string, specifier: string, allowed: boolean][] = [
  ['api/calc', './other.ts', true],
  ['api/calc', './assay/other.ts', true],
  ['api/calc', 'decimal.js', true],
  ['api/calc', 'pure-rand/generator/xoroshiro128plus', true],
  ['api/calc', 'zod', false],
  ['api/calc', 'node:fs', false],
  ['api/calc', '../log.ts', false],
  ['api/calc', '../schemas/lot.ts', false],
  ['api/calc', '../../db/schema.ts', false],
  ['api/calc/assay', '../measured.ts', true],
  ['api/calc/assay', '../smelting/other.ts', true],
  ['api/calc/assay', '../../schemas/lot.ts', false],
  ['api/calc/assay', '../../log.ts', false],
  ['api/calc/assay', '../../../reports/model/report.ts', false],
  ['api/calc/assay', '../smelting/../../log.ts', false],
  ['api/calc/assay', '..', false],
  ['api/calc/assay/fire', './other.ts', true],
  ['api/calc/assay/fire', '../other.ts', false],
  ['api/schemas', '../calc/money.ts', true],
  ['api/schemas', 'zod', true],
  ['api/schemas', '../problem.ts', false],
  ['api/schemas', '../../db/schema.ts', false],
  ['db', '../api/calc/money.ts', true],
  ['db', '../api/schemas/lot.ts', true],
  ['db', '../api/log.ts', false],
  ['db', 'hono', false],
  ['db/queries', '../schema.ts', true],
  ['db/queries', '../../api/schemas/lot.ts', true],
  ['db/queries', '../../api/problem.ts', false],
  ['db/queries', '../../reports/model/report.ts', false],
  ['db/queries', '../../web/api.ts', false],
  ['db/migrations', 'kysely', true],
  ['db/migrations', '../schema.ts', false],
  ['db/migrations', '../../api/schemas/lot.ts', false],
  ['reports/model', '../charts/scene.ts', true],
  ['reports/model', '../../api/calc/money.ts', true],
  ['reports/model', '../../api/schemas/lot.ts', false],
  ['reports/model', '../pdf/paint.ts', false],
  ['reports/model', 'node:fs', false],
  ['reports/charts', 'd3-scale', true],
  ['reports/charts', '../../db/schema.ts', false],
  ['reports/charts', 'pdfkit', false],
  ['reports/pdf', 'pdfkit', true],
  ['reports/pdf', '../model/report.ts', true],
  ['reports/pdf', '../../api/calc/money.ts', true],
  ['reports/pdf', '../../api/log.ts', false],
  ['reports/pdf', '../../db/schema.ts', false],
  ['reports/csv', '../../api/schemas/lot.ts', false],
  ['reports/xlsx', 'write-excel-file/node', true],
  ['reports/xlsx', '../../db/schema.ts', false],
  ['web', './parts/page.tsx', true],
  ['web', '../api/calc/money.ts', true],
  ['web', '../api/schemas/lot.ts', true],
  ['web', '../reports/charts/scene.ts', true],
  ['web', '../api/app.ts', false],
  ['web', '../db/schema.ts', false],
  ['web', '../reports/pdf/paint.ts', false],
  ['web', 'node:fs', false],
  ['web/pages', '../api.ts', true],
  ['web/pages', '../../reports/model/report.ts', true],
  ['web/pages', '../../api/app.ts', false],
  ['web/pages', '../../api/routes/lots.ts', false],
  ['web/pages', '../../db/queries/lots.ts', false],
  ['web/pages', '../../tests/support/browser.ts', false],
  ['web/pages/decide', './answer.tsx', true],
  ['web/pages/decide', '../season.tsx', true],
  ['web/pages/decide', '../../parts/page.tsx', true],
  ['web/pages/decide', '../../../api/schemas/lot.ts', true],
  ['web/pages/decide', '../../../reports/charts/scene.ts', true],
  ['web/pages/decide', '../../../api/app.ts', false],
  ['web/pages/decide', '../../../reports/pdf/paint.ts', false],
  ['web/pages/decide', '../../../db/schema.ts', false],
  ['web/pages/decide/deep', '../../../api.ts', false],
  ['api', './app.ts', true],
  ['api', '../db/open.ts', true],
  ['api', '../reports/pdf/paint.ts', true],
  ['api', '../web/api.ts', false],
  ['api', '../tests/support/engines.ts', false],
  ['api', './routes/index.ts', false],
  ['api/routes', '../../db/queries/lots.ts', true],
  ['api/routes', '../../web/api.ts', false],
  ['api/routes', '../../tests/support/engines.ts', false],
  ['api/routes', '..', false],
  ['api/accounts', '../../db/queries/lots.ts', true],
  ['api/accounts', '../../web/api.ts', false],
  ['api/imports', '../../web/api.ts', false],
  ['api/demo', '../../tests/support/engines.ts', false],
];

/** A name, a file, its text, and the rule that it breaks; none where it is in order. */
const otherRules: [name: string, path: string, text: string, rule: string | undefined][] = [
  [
    'code of the app beside its type',
    'web/api.ts',
    "export type { App } from '../api/app.ts';\nexport { createApp } from '../api/app.ts';",
    imports,
  ],
  [
    'clock in calc',
    'api/calc/clock.ts',
    'export const now = Date.now();',
    'eslint(no-restricted-properties)',
  ],
  [
    'dice in calc',
    'api/calc/dice.ts',
    'export const die = Math.random();',
    'eslint(no-restricted-properties)',
  ],
  [
    'timer in calc',
    'api/calc/assay/t.ts',
    'export const t = performance.now();',
    'eslint(no-restricted-globals)',
  ],
  [
    'environment in charts',
    'reports/charts/e.ts',
    'export const e = process.env;',
    'eslint(no-restricted-globals)',
  ],
  ['date arithmetic in calc', 'api/calc/ok.ts', 'export const day = Date.UTC(2026, 2, 1);', undefined],
  ['console in the server', 'api/loud.ts', "console.log('x');\nexport {};", 'eslint(no-console)'],
  ['default export', 'api/d.ts', 'export default 1;', 'import(no-default-export)'],
  [
    'focused test',
    'tests/f.test.ts',
    "import { it } from 'vitest';\nit.only('x', () => {});",
    'vitest(no-focused-tests)',
  ],
  [
    'skipped test',
    'tests/s.test.ts',
    "import { it } from 'vitest';\nit.skip('x', () => {});",
    'vitest(no-disabled-tests)',
  ],
  [
    'query that nobody waits for',
    'db/queries/floating.ts',
    'async function insert(): Promise<void> {}\nexport function save(): void {\n  insert();\n}',
    'typescript(no-floating-promises)',
  ],
  [
    'condition on a promise',
    'api/misused.ts',
    'async function found(): Promise<boolean> {\n  return true;\n}\nexport const sign = found() ? 1 : 2;',
    'typescript(no-misused-promises)',
  ],
  [
    'any',
    'api/any.ts',
    'export function head(list: any): void {\n  void list;\n}',
    'typescript(no-explicit-any)',
  ],
  [
    'hook in a condition',
    'web/parts/hook.tsx',
    "import { useState } from 'react';\nexport function Part({ on }: { on: boolean }) {\n  if (on) useState(0);\n  return null;\n}",
    'react-hooks(rules-of-hooks)',
  ],
  [
    'picture without words',
    'web/parts/picture.tsx',
    'export const Picture = () => <img src="/icon.svg" />;',
    'jsx-a11y(alt-text)',
  ],
];

describe('the linter', () => {
  const directory = mkdtempSync(join(tmpdir(), 'poursheet-lint-'));
  const complaints = new Map<string, string[]>();
  const write = (path: string, text: string): void => {
    const file = join(directory, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, `${text}\n`);
  };
  const importFile = (index: number): string => `${importRule[index]?.[0]}/import-${index}.ts`;

  beforeAll(() => {
    copyFileSync(join(root, '.oxlintrc.json'), join(directory, '.oxlintrc.json'));
    copyFileSync(join(root, 'tsconfig.json'), join(directory, 'tsconfig.json'));
    symlinkSync(join(root, 'node_modules'), join(directory, 'node_modules'));
    importRule.forEach(([, specifier], index) =>
      write(importFile(index), `export { x } from '${specifier}';`),
    );
    for (const [, path, text] of otherRules) write(path, text);
    const { stdout } = spawnSync(join(root, 'node_modules/.bin/oxlint'), ['--format', 'json'], {
      cwd: directory,
      encoding: 'utf8',
    });
    const { diagnostics } = JSON.parse(stdout) as { diagnostics: { filename: string; code: string }[] };
    for (const { filename, code } of diagnostics)
      complaints.set(filename, [...(complaints.get(filename) ?? []), code]);
  });
  afterAll(() => {
    rmSync(directory, { recursive: true, force: true });
  });

  it.each(importRule.map(([folder, specifier, allowed], index) => ({ folder, specifier, allowed, index })))(
    'import of $specifier in $folder: $allowed',
    ({ allowed, index }) => {
      expect((complaints.get(importFile(index)) ?? []).includes(imports)).toBe(!allowed);
    },
  );

  it.each(otherRules)('%s', (_, path, _text, rule) => {
    expect(complaints.get(path) ?? []).toEqual(rule === undefined ? [] : [rule]);
  });
});
