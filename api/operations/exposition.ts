/** Measurements of one kind. */
export interface Family {
  name: string;
  type: 'gauge' | 'histogram' | 'summary';
  unit?: string;
  help: string;
  samples: { suffix: string; labels: Record<string, string>; value: number }[];
}

/** The media type of `exposition`. */
export const EXPOSITION_TYPE = 'application/openmetrics-text; version=1.0.0; charset=utf-8';

/** Measurements as text (OpenMetrics 1.0.0, "Text format"). */
export function exposition(families: readonly Family[]): string {
  const lines = families.flatMap(({ name, type, unit, help, samples }) => [
    `# TYPE ${name} ${type}`,
    ...(unit === undefined ? [] : [`# UNIT ${name} ${unit}`]),
    `# HELP ${name} ${escaped(help)}`,
    ...samples.map(({ suffix, labels, value }) => `${name}${suffix}${written(labels)} ${value}`),
  ]);
  return [...lines, '# EOF', ''].join('\n');
}

function written(labels: Record<string, string>): string {
  const pairs = Object.entries(labels).map(([name, value]) => `${name}="${escaped(value)}"`);
  return pairs.length === 0 ? '' : `{${pairs.join(',')}}`;
}

function escaped(text: string): string {
  return text.replaceAll('\\', '\\\\').replaceAll('\n', '\\n').replaceAll('"', '\\"');
}
