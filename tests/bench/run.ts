import { writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { join } from 'node:path';
import { benchFolder, hasTaskset, onOneCore, type Section } from './section.ts';

/**
 * Measures on one core: `npm run bench`, or `npm run bench -- Settlement` for one section, which is then only
 * printed. Each measurement is a process of its own, which loads no other section, held to one core where `taskset`
 * is at hand, so that its peak memory and time are its own.
 */
const SECTIONS: Record<string, () => Promise<Section>> = {
  'Accountant’s archive': async () => (await import('./accountant-section.ts')).accountantSection,
  Decision: async () => (await import('./decision-section.ts')).decisionSection,
  'Grade and recovery': async () => (await import('./inference-section.ts')).inferenceSection,
  Load: async () => (await import('./load-section.ts')).loadSection,
  Settlement: async () => (await import('./settlement-section.ts')).settlementSection,
  'Ten seasons': async () => (await import('./ten-seasons-section.ts')).tenSeasonsSection,
};

async function sectionNamed(asked: string): Promise<Section> {
  const name = Object.keys(SECTIONS).find((one) => one.toLowerCase() === asked.toLowerCase());
  const load = name === undefined ? undefined : SECTIONS[name];
  if (load === undefined)
    throw new Error(`There is no section ${asked}; there are ${Object.keys(SECTIONS).join(', ')}.`);
  return load();
}

function resultsOf(name: string, { measures }: Section): Record<string, unknown> {
  return Object.fromEntries(
    Object.keys(measures).map((measure) => [
      measure,
      JSON.parse(onOneCore(process.execPath, [import.meta.filename, 'measure', name, measure])),
    ]),
  );
}

function head(): string {
  const machine = `${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GB`;
  const core = hasTaskset ? 'held to one core (`taskset`)' : 'not held to one core: `taskset` is missing';
  return [
    '# What the bench measured',
    '',
    `${new Date().toISOString().slice(0, 10)}; ${machine}; Node ${process.version}; each measurement in a process of its own,`,
    `${core}. The machine was doing other work as well, so processor time says more than the`,
    'clock. `npm run bench` measures anew.',
  ].join('\n');
}

async function written(name: string): Promise<string> {
  const section = await sectionNamed(name);
  return `## ${section.title}\n\n${section.write(resultsOf(name, section))}`;
}

const [, , asked, name = '', measureName = ''] = process.argv;
if (asked === 'measure') {
  const measure = (await sectionNamed(name)).measures[measureName];
  if (measure === undefined) throw new Error(`There is no measurement ${measureName} in ${name}.`);
  process.stdout.write(JSON.stringify(await measure()));
} else if (asked !== undefined) {
  process.stdout.write(`${await written(asked)}\n`);
} else {
  const parts = [head()];
  for (const section of Object.keys(SECTIONS)) parts.push(await written(section));
  const text = `${parts.join('\n\n')}\n`;
  writeFileSync(join(benchFolder, 'report.md'), text);
  process.stdout.write(text);
}
