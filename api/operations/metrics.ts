import { monitorEventLoopDelay } from 'node:perf_hooks';
import type { Context, MiddlewareHandler } from 'hono';
import { matchedRoutes } from 'hono/route';
import type { Connections } from '../../db/engine/engine.ts';
import { exposition, type Family } from './exposition.ts';

/** Upper bounds of the classes of durations, in seconds. */
const BOUNDS_S = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10];

interface Durations {
  method: string;
  route: string;
  status: string;
  /** How many took up to each bound and no less than the one before; the last took longer. */
  counts: number[];
  sumS: number;
}

export interface Metrics {
  /** Counts and times every request. */
  measure: MiddlewareHandler;
  /** All that was measured, in the OpenMetrics text format. */
  text: (state: { connections: Connections; lastBackupAt: Date | undefined }) => string;
}

/** What the program measures of itself. `now` gives milliseconds. */
export function createMetrics(now: () => number): Metrics {
  const durations = new Map<string, Durations>();
  const delay = monitorEventLoopDelay({ resolution: 20 });
  delay.enable();
  let underWay = 0;

  const note = (c: Context, tookS: number): void => {
    const { method } = c.req;
    const route = routeOf(c);
    const status = String(c.res.status);
    const key = `${method} ${route} ${status}`;
    let one = durations.get(key);
    if (one === undefined) {
      one = { method, route, status, counts: Array.from({ length: BOUNDS_S.length + 1 }, () => 0), sumS: 0 };
      durations.set(key, one);
    }
    const place = BOUNDS_S.findIndex((bound) => tookS <= bound);
    const at = place < 0 ? BOUNDS_S.length : place;
    one.counts[at] = (one.counts[at] ?? 0) + 1;
    one.sumS += tookS;
  };

  return {
    measure: async (c, next) => {
      const begun = now();
      underWay += 1;
      try {
        await next();
      } finally {
        underWay -= 1;
        note(c, (now() - begun) / 1000);
      }
    },
    text: ({ connections, lastBackupAt }) => {
      const memory = process.memoryUsage();
      const seconds = (nanoseconds: number): number => (Number.isFinite(nanoseconds) ? nanoseconds / 1e9 : 0);
      const families: Family[] = [
        {
          name: 'poursheet_request_duration_seconds',
          type: 'histogram',
          unit: 'seconds',
          help: 'Requests answered, by method, route and status.',
          samples: [...durations.values()].flatMap(samplesOf),
        },
        gauge('poursheet_requests_under_way', 'Requests that are being answered.', underWay),
        {
          name: 'poursheet_event_loop_delay_seconds',
          type: 'summary',
          unit: 'seconds',
          help: 'How late the program comes to what is due, since its start.',
          samples: [50, 99].map((percent) => ({
            suffix: '',
            labels: { quantile: String(percent / 100) },
            value: seconds(delay.percentile(percent)),
          })),
        },
        {
          name: 'poursheet_memory_bytes',
          type: 'gauge',
          unit: 'bytes',
          help: 'Memory of the process by kind.',
          samples: (['rss', 'heapUsed', 'heapTotal', 'external'] as const).map((kind) => ({
            suffix: '',
            labels: { kind },
            value: memory[kind],
          })),
        },
        {
          name: 'poursheet_database_connections',
          type: 'gauge',
          help: 'Connections to the database, and requests that wait for one.',
          samples: (['open', 'idle', 'waiting'] as const).map((state) => ({
            suffix: '',
            labels: { state },
            value: connections[state],
          })),
        },
        ...(lastBackupAt === undefined
          ? []
          : [
              {
                ...gauge(
                  'poursheet_last_backup_timestamp_seconds',
                  'When the last good backup was made, in seconds since 1970.',
                  lastBackupAt.getTime() / 1000,
                ),
                unit: 'seconds',
              },
            ]),
      ];
      return exposition(families);
    },
  };
}

function gauge(name: string, help: string, value: number): Family {
  return { name, type: 'gauge', help, samples: [{ suffix: '', labels: {}, value }] };
}

function samplesOf({ counts, sumS, ...labels }: Durations): Family['samples'] {
  let below = 0;
  const buckets = counts.map((count, place) => {
    below += count;
    const bound = BOUNDS_S[place];
    return {
      suffix: '_bucket',
      labels: { ...labels, le: bound === undefined ? '+Inf' : String(bound) },
      value: below,
    };
  });
  return [...buckets, { suffix: '_count', labels, value: below }, { suffix: '_sum', labels, value: sumS }];
}

/** The route as it is declared, not the address asked for: addresses hold ids and have no end. */
function routeOf(c: Context): string {
  const served = matchedRoutes(c).filter(({ method, path }) => method !== 'ALL' && !path.endsWith('*'));
  return served.at(-1)?.path ?? (c.req.path.startsWith('/api/') ? 'none' : 'pages');
}
