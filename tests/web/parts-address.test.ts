import { describe, expect, it } from 'vitest';
import { readParts, writeParts } from '../../web/pages/lots/parts-address.ts';

const parts = [
  { lotId: '388a9df9-e7de-4596-8f17-dcde355fa958', dryMassKg: '50' },
  { lotId: '379f1aba-7263-4db3-911b-0fd02dd975c7', dryMassKg: '40.125' },
];

describe('the lots that an address says a new lot is made from', () => {
  it('come back as they were written', () => {
    expect(readParts(writeParts(parts))).toEqual(parts);
  });

  it('are none where it says something else', () => {
    const [{ lotId }] = parts as [(typeof parts)[0]];
    for (const written of ['', 'x', `${lotId}:`, `${lotId}:-5`, `${lotId}:1e3`, `L-1:20`, `${lotId}:5:5`])
      expect(readParts(written), written).toEqual([]);
    expect(readParts(`rubbish;${lotId}:20`)).toEqual([{ lotId, dryMassKg: '20' }]);
  });
});
