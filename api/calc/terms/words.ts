import type { EventName } from './term-units.ts';

/** Joins parts as a sentence does: `a, b and c`. */
export function list(parts: readonly string[]): string {
  if (parts.length <= 1) return parts[0] ?? '';
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1) ?? ''}`;
}

const EVENTS: Record<EventName, string> = {
  shipment: 'shipment',
  arrival: 'arrival',
  weighing: 'weighing',
  melting: 'melting',
  'assay-exchange': 'the exchange of assays',
  'price-declaration': 'the declaration of the price',
  statement: 'the statement',
};

/** An event as it stands in a sentence. */
export function eventWords(event: EventName): string {
  return EVENTS[event];
}
