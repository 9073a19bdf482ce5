import { expect, it } from 'vitest';
import { saidOfField } from '../../web/lib/said-of-field.ts';

it('names a field once, whether the refusal does or not', () => {
  expect(saidOfField('Finished on', 'Finished on is "2031-05-01": must not be before it was started.')).toBe(
    'Finished on is "2031-05-01": must not be before it was started.',
  );
  expect(saidOfField('Sample mass', 'Sample mass g is 0: must be above 0.')).toBe(
    'Sample mass g is 0: must be above 0.',
  );
  expect(saidOfField('Penalty 2, rate', 'Must be above 0.')).toBe('Penalty 2, rate: Must be above 0.');
});
