import { format } from 'node:util';
import { afterEach, beforeEach, expect, vi } from 'vitest';

/** A test fails when the code under it complains on the console, unless the test itself replaced that method. */
let complaints: string[] = [];

beforeEach(() => {
  complaints = [];
  for (const method of ['error', 'warn'] as const)
    vi.spyOn(console, method).mockImplementation((...args: unknown[]) => {
      complaints.push(`console.${method}: ${format(...args)}`);
    });
});

afterEach(() => {
  expect(complaints, 'output on console.error or console.warn').toEqual([]);
});
