export const logLevels = ['error', 'info', 'debug'] as const;
export type LogLevel = (typeof logLevels)[number];

let level: LogLevel = 'error';

/** Sets how much is written from now on; errors always are. */
export function setLogLevel(wanted: LogLevel): void {
  level = wanted;
}

/** One line of JSON on stderr. */
export function log(of: LogLevel, event: string, fields: Record<string, unknown>): void {
  if (logLevels.indexOf(of) > logLevels.indexOf(level)) return;
  const line = { at: new Date().toISOString(), level: of, event, ...fields };
  process.stderr.write(
    `${JSON.stringify(line, (_, value: unknown) => (value instanceof Error ? told(value) : value))}\n`,
  );
}

/** An address as the log has it: what opens a door is left out. */
export function pathForLog(path: string): string {
  return path.replace(/^(\/api\/downloads\/).+/, '$1…');
}

export function logError(event: string, fields: Record<string, unknown>): void {
  log('error', event, fields);
}

function told(error: Error): Record<string, unknown> {
  return {
    ...Object.fromEntries(Object.entries(error)),
    name: error.name,
    message: error.message,
    stack: error.stack,
    cause: error.cause,
  };
}
