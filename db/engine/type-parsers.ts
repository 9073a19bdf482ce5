import pg from 'pg';

const { builtins } = pg.types;
/** The type text[]: its parser leaves each entry as text. */
const textArray = pg.types.getTypeParser(1009 as number, 'text') as (text: string) => string[];
const asText = (text: string): string => text;

/** PostgreSQL writes `2026-03-01 14:05:00.25+00` in UTC; the wire format is RFC 3339 with Z. */
function rfc3339(text: string): string {
  return text.replace(' ', 'T').replace(/\+00(:00)?$/, 'Z');
}

/**
 * Exact and calendar values stay text, so that neither binary floating point nor
 * the local time zone touches them: int8, numeric, date, timestamptz, and arrays of the first three.
 */
const ownParsers = new Map<number, (text: string) => unknown>([
  [builtins.INT8, asText],
  [builtins.NUMERIC, asText],
  [builtins.DATE, asText],
  [builtins.TIMESTAMPTZ, rfc3339],
  [1016, textArray], // int8[]
  [1182, textArray], // date[]
  [1231, textArray], // numeric[]
]);

/** The one table of parsers that both engines read rows with. */
export const typeParsers: pg.CustomTypesConfig = {
  getTypeParser: (oid: number, format?: 'text' | 'binary') =>
    (format === 'binary' ? undefined : ownParsers.get(oid)) ??
    (pg.types.getTypeParser(oid, format) as (text: string) => unknown),
};
