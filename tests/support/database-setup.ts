import { randomUUID } from 'node:crypto';
import pg from 'pg';
import type { TestProject } from 'vitest/node';
import { migrate } from '../../db/migrate.ts';
import { openDatabase } from '../../db/open.ts';
import { databaseNamed } from './database-url.ts';
import { embeddedImage } from './embedded-image.ts';
import { startTestServer } from './postgres-server.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    embeddedImage: string;
    testServer: { url: string; template: string } | { missing: string };
  }
}

/** Once for a run: an embedded image and a server template, both migrated, that tests copy. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  project.provide('embeddedImage', await embeddedImage());

  const server = await startTestServer();
  if (typeof server === 'string') {
    if (process.env['CI'] === 'true')
      throw new Error(`In CI the tests must run on a real PostgreSQL: ${server}.`);
    process.stdout.write(`Skipping the tests on a real PostgreSQL: ${server}.\n`);
    project.provide('testServer', { missing: server });
    return () => Promise.resolve();
  }
  const template = `poursheet_template_${randomUUID().replaceAll('-', '')}`;
  await onServer(server.url, `create database ${template}`);
  const opened = await openDatabase({ databaseUrl: databaseNamed(server.url, template), durability: 'fast' });
  await migrate(opened.db);
  await opened.close();
  project.provide('testServer', { url: server.url, template });
  return async () => {
    await onServer(server.url, `drop database ${template} with (force)`);
    await server.stop();
  };
}

async function onServer(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
