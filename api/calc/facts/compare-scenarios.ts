import { saidMoney } from '../economics/decision-sentence.ts';

/** One case and the best option in it, with its expected net value; null where nothing could be compared. */
export interface ComparedScenario {
  name: string;
  best: { name: string; meanNetValue: number } | null;
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** Whether the answer holds over some cases, in one sentence; '' for fewer than two that can be compared. */
export function scenariosSentence(scenarios: readonly ComparedScenario[], currency: string): string {
  const known = scenarios.flatMap(({ name, best }) => (best === null ? [] : [{ name, best }]));
  if (known.length < 2) return '';
  const cases = new Map<string, string[]>();
  for (const { name, best } of known) cases.set(best.name, [...(cases.get(best.name) ?? []), `“${name}”`]);
  const values = known.map(({ best }) => best.meanNetValue);
  const [low, high] = [Math.min(...values), Math.max(...values)].map((value) => saidMoney(value, currency));
  const between = low === high ? `about ${low} in each` : `from about ${low} to ${high}`;
  if (cases.size === 1) {
    const all = known.length === 2 ? 'both cases' : `all ${known.length} cases`;
    return `${known[0]!.best.name} is the best in ${all}, and is expected to bring ${between}.`;
  }
  const answers = [...cases].map(([option, names]) => `${option} in ${listed(names)}`);
  return `The answer depends on the case: ${answers.join('; ')}. The best is expected to bring ${between}.`;
}
