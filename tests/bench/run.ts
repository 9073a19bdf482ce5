import { writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { join } from 'node:path';
import { decisionSection } from './decision-section.ts';
import { inferenceSection } from './inference-section.ts';
import { benchFolder, hasTaskset, onOneCore, type Section } from './section.ts';
import { settlementSection } from './settlement-section.ts';

/**
 * Measures on one core: `npm run bench`, or `npm run bench -- Settlement` for one section, which is then only
 * printed. Each measurement is a process of its own, held to one core where `taskset` is at hand, so that its peak
 * memory and time are its own.
 */
const SECTIONS: Section[] = [decisionSection, inferenceSection, settlementSection];

function resultsOf({ title, measures }: Section): Record<string, unknown> {
  return Object.fromEntries(
    Object.keys(measures).map((name) => [
      name,
      JSON.parse(onOneCore(process.execPath, [import.meta.filename, 'measure', title, name])),
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

const written = (section: Section): string => `## ${section.title}\n\n${section.write(resultsOf(section))}`;

const [, , asked, title, name] = process.argv;
if (asked === 'measure') {
  const measure = SECTIONS.find((one) => one.title === title)?.measures[name ?? ''];
  if (measure === undefined) throw new Error(`There is no measurement ${name} in a section ${title}.`);
  process.stdout.write(JSON.stringify(await measure()));
} else if (asked !== undefined) {
  const section = SECTIONS.find((one) => one.title.toLowerCase() === asked.toLowerCase());
  if (section === undefined)
    throw new Error(
      `There is no section ${asked}; there are ${SECTIONS.map((one) => one.title).join(', ')}.`,
    );
  process.stdout.write(`${written(section)}\n`);
} else {
  const text = `${[head(), ...SECTIONS.map(written)].join('\n\n')}\n`;
  writeFileSync(join(benchFolder, 'report.md'), text);
  process.stdout.write(text);
}
