import pg from 'pg';
import { afterAll, inject } from 'vitest';
import { databaseNamed } from './database-url.ts';

/** Makes migrated databases of their own on the test server, dropped after the tests; undefined where there is none. */
export function ownDatabases(): (() => Promise<string>) | undefined {
  const server = inject('testServer');
  if ('missing' in server) return undefined;
  const made: string[] = [];
  afterAll(async () => {
    for (const name of made) await onServer(server.url, `drop database if exists ${name} with (force)`);
  });
  return async () => {
    const name = `poursheet_${crypto.randomUUID().replaceAll('-', '')}`;
    made.push(name);
    await onServer(server.url, `create database ${name} template ${server.template}`);
    return databaseNamed(server.url, name);
  };
}

/** Runs one statement on a server. */
export async function onServer(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
