import { camelCase } from './camel-case.ts';

const units: Record<string, string> = {
  kg: 'kg',
  g: 'g',
  mg: 'mg',
  ml: 'mL',
  mm: 'mm',
  c: '°C',
  gpt: 'g/t',
  gpml: 'g/mL',
  ozt: 'ozt',
  usd: 'USD',
  frac: 'fraction',
};

/** `moisture_frac` as `Moisture, fraction`: a column in words, with its unit. */
export function columnWords(column: string): string {
  const tokens = column.split('_').filter((token) => token !== 'id');
  const last = tokens.at(-1) ?? '';
  const unit = tokens.length > 1 && Object.hasOwn(units, last) ? units[last] : undefined;
  const words = (unit === undefined ? tokens : tokens.slice(0, -1)).join(' ');
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}${unit === undefined ? '' : `, ${unit}`}`;
}

/** `test_smelt` as `test smelt`. */
export function tableWords(table: string): string {
  const plain: Record<string, string> = { mill: 'settings', cupellation: 'cupellation correction' };
  return plain[table] ?? table.replaceAll('_', ' ');
}

/** The pointer to a column as the API names its field. */
export function columnPointer(column: string): string {
  return `/${camelCase(column)}`;
}

/** A stored value as it is shown; long documents by their fingerprint. */
export function shownValue(value: unknown): string | null {
  if (value === null || value === undefined) return null;
  if (typeof value === 'string') return value === '' ? null : value;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'object' && 'sha256' in value && typeof value.sha256 === 'string')
    return `document ${value.sha256.slice(0, 12)}…`;
  const text = JSON.stringify(value);
  return text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)}…` : text;
}

const LONGEST_SHOWN = 300;
