import type { Batch, Product } from '../../../api/schemas/batch.ts';

export const statusWords: Record<Batch['status'], string> = {
  planned: 'planned',
  running: 'running',
  done: 'done',
  cancelled: 'cancelled',
};

export const stageWords: Record<string, string> = {
  provisional: 'provisional',
  'second-provisional': 'second provisional',
  final: 'final',
  adjustment: 'adjusted',
};

export const productWords: Record<Product['kind'], string> = {
  bar: 'bar',
  parcel: 'parcel of concentrate',
  bead: 'bead',
  button: 'lead button',
  matte: 'matte',
  slag: 'slag',
  lead: 'lead',
};

/** How a batch is worked up, in the trade's words. */
export const wayOf = (batch: Pick<Batch, 'treatmentName' | 'counterpartyName'>): string =>
  batch.treatmentName ?? `sold as concentrate to ${batch.counterpartyName}`;
