import { randomUUID } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import pg from 'pg';
import { afterAll, describe, inject } from 'vitest';
import { openDatabase, type OpenDatabase } from '../../db/open.ts';
import { databaseNamed } from './database-url.ts';

/** Opens a fresh database, migrated unless told otherwise; it is closed after the describe that opened it. */
export type OpenFresh = (options?: { migrated?: boolean }) => Promise<OpenDatabase>;

/** Runs the same tests on the embedded PostgreSQL and on a real server. */
export function describeOnEveryEngine(name: string, body: (open: OpenFresh) => void): void {
  describeOnEmbedded(name, body);
  const server = inject('testServer');
  const missing = 'missing' in server ? server.missing : undefined;
  describe.skipIf(missing !== undefined)(
    `${name} (server${missing === undefined ? '' : `: ${missing}`})`,
    () => {
      body(closingAfterwards(openOnServer));
    },
  );
}

/** Runs tests on the embedded PostgreSQL only, in memory. */
export function describeOnEmbedded(name: string, body: (open: OpenFresh) => void): void {
  describe(`${name} (embedded)`, () => {
    body(closingAfterwards(openInMemory));
  });
}

function closingAfterwards(open: OpenFresh): OpenFresh {
  const opened: OpenDatabase[] = [];
  afterAll(async () => {
    for (const database of opened) await database.close();
  });
  return async (options) => {
    const database = closingOnce(await open(options));
    opened.push(database);
    return database;
  };
}

function closingOnce(database: OpenDatabase): OpenDatabase {
  let closing: Promise<void> | undefined;
  return { ...database, close: () => (closing ??= database.close()) };
}

/** A fresh embedded database in memory; the caller closes it. */
export async function openInMemory({ migrated = true }: { migrated?: boolean } = {}): Promise<OpenDatabase> {
  const image = migrated ? new Blob([await readFile(inject('embeddedImage'))]) : undefined;
  return openDatabase({ durability: 'fast', image });
}

/** A fresh database on the test server; the caller closes it. */
export async function openOnServer({ migrated = true }: { migrated?: boolean } = {}): Promise<OpenDatabase> {
  const server = inject('testServer');
  if ('missing' in server) throw new Error(server.missing);
  const name = `poursheet_${randomUUID().replaceAll('-', '')}`;
  const onServer = async (statement: string): Promise<void> => {
    const client = new pg.Client({ connectionString: server.url });
    await client.connect();
    try {
      await client.query(statement);
    } finally {
      await client.end();
    }
  };
  await onServer(`create database ${name} template ${migrated ? server.template : 'template0'}`);
  const opened = await openDatabase({ databaseUrl: databaseNamed(server.url, name), durability: 'fast' });
  return {
    ...opened,
    close: async () => {
      await opened.close();
      await onServer(`drop database ${name} with (force)`);
    },
  };
}
