import { expect, it } from 'vitest';
import { createApp } from '../../api/app.ts';
import { describeOnEmbedded } from '../support/engines.ts';

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;

/** Every `$ref` of a document. */
function referencesIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(referencesIn);
  if (!isRecord(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    key === '$ref' && typeof inner === 'string' ? [inner] : referencesIn(inner),
  );
}

describeOnEmbedded('the OpenAPI document', (open) => {
  it('describes every endpoint, each with a success and a problem, by OpenAPI 3.1', async () => {
    const { db } = await open();
    const app = createApp({ db, now: () => new Date(0) });
    const document: {
      openapi: string;
      paths: Record<string, Record<string, { summary: string; responses: Record<string, unknown> }>>;
    } = await (await app.request('/api/openapi.json')).json();
    expect(document.openapi).toBe('3.1.0');

    const served = app.routes
      .filter((route) => route.method !== 'ALL' && !route.path.endsWith('/openapi.json'))
      .map(
        (route) =>
          `${route.method.toLowerCase()} ${route.path.replaceAll(/:(\w+)(\{[^}]*\})?/g, '{$1}').replace(/(.)\/$/, '$1')}`,
      );
    const described = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method} ${path.replace(/(.)\/$/, '$1')}`),
    );
    expect(described.toSorted()).toEqual([...new Set(served)].toSorted());

    for (const [path, methods] of Object.entries(document.paths))
      for (const [method, { summary, responses }] of Object.entries(methods)) {
        expect(summary, `${method} ${path}`).toMatch(/\S/);
        const answers = Object.keys(responses);
        expect(
          answers.some((status) => status.startsWith('2')),
          `${method} ${path}`,
        ).toBe(true);
        expect(answers, `${method} ${path}`).toContain('default');
      }
    for (const reference of referencesIn(document)) {
      const target = reference
        .replace(/^#\//, '')
        .split('/')
        .reduce<unknown>((inner, key) => (isRecord(inner) ? inner[key] : undefined), document);
      expect(target, reference).toBeDefined();
    }
  });
});
