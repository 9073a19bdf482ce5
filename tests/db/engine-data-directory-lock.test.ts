import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { lockDataDirectory } from '../../db/engine/data-directory-lock.ts';
import { processStart } from '../../db/engine/process-start.ts';
import { childProgram, type ChildProgram } from '../support/child-process.ts';

describe('the lock of a data directory', () => {
  let start: ChildProgram['start'];
  beforeAll(async () => {
    ({ start } = await childProgram('tests/db/children/hold-data-directory.ts'));
  });
  let dataDir: string;
  beforeEach(() => {
    dataDir = mkdtempSync(join(tmpdir(), 'poursheet-lock-'));
  });
  afterEach(() => {
    rmSync(dataDir, { recursive: true, force: true });
  });

  const answer = async (child: ChildProcess): Promise<unknown> =>
    ((await once(child, 'message')) as unknown[])[0];
  const readyChild = async (): Promise<ChildProcess> => {
    const child = start([dataDir]).process;
    expect(await answer(child)).toBe('ready');
    return child;
  };
  const tryToHold = (child: ChildProcess): Promise<unknown> => {
    const answered = answer(child);
    child.send('try');
    return answered;
  };
  const kill = async (child: ChildProcess): Promise<void> => {
    const gone = once(child, 'exit');
    child.kill('SIGKILL');
    await gone;
  };
  const leaveHolder = (holder: object): void => {
    mkdirSync(join(dataDir, 'in-use'));
    writeFileSync(join(dataDir, 'in-use', 'holder.json'), JSON.stringify(holder));
  };
  const now = new Date('2026-03-01T14:05:00Z');
  const ended = {
    token: 'ended',
    pid: 1,
    processStart: 'long ago',
    host: hostname(),
    since: now.toISOString(),
    url: '',
  };

  it('tells a second start who holds the directory, since when and where', async () => {
    const child = await readyChild();
    expect(await tryToHold(child)).toBe('held');
    const second = (): unknown => lockDataDirectory(dataDir, now);
    expect(second).toThrow(`process ${child.pid}, since 20`);
    expect(second).toThrow('http://127.0.0.1:4999');
  });

  it('is free again after a release', async () => {
    const lock = lockDataDirectory(dataDir, now);
    const child = await readyChild();
    expect(await tryToHold(child)).toMatch(
      `in use by another Poursheet: process ${process.pid}, since 2026-03-01`,
    );
    lock.release();
    expect(readdirSync(dataDir)).toEqual([]);
    expect(await tryToHold(child)).toBe('held');
  });

  it('is taken over when its holder was killed', async () => {
    const killed = await readyChild();
    expect(await tryToHold(killed)).toBe('held');
    await kill(killed);
    lockDataDirectory(dataDir, now).release();
  });

  it('is taken over when its process number now belongs to another process', () => {
    leaveHolder({ ...ended, pid: process.pid });
    lockDataDirectory(dataDir, now).release();
    leaveHolder({ ...ended, pid: process.pid, token: 'alive', processStart: processStart(process.pid) });
    expect(() => lockDataDirectory(dataDir, now)).toThrow('in use');
  });

  it('stands when it was taken on another machine, and says what to delete', () => {
    leaveHolder({ ...ended, host: 'the-other-cabin' });
    expect(() => lockDataDirectory(dataDir, now)).toThrow(
      /on the machine the-other-cabin.*delete .*in-use and start again/,
    );
  });

  it('is taken over when a damaged disk left it unreadable', () => {
    mkdirSync(join(dataDir, 'in-use'));
    writeFileSync(join(dataDir, 'in-use', 'holder.json'), '');
    lockDataDirectory(dataDir, now).release();
  });

  it('gives up with advice when the lock cannot be moved away', () => {
    leaveHolder(ended);
    mkdirSync(join(dataDir, 'in-use.gone-ended', 'something'), { recursive: true });
    expect(() => lockDataDirectory(dataDir, now)).toThrow(
      /could not be taken.*delete .*in-use and start again/,
    );
  });

  it('goes to exactly one of many that find it left behind at once', async () => {
    const children = await Promise.all(Array.from({ length: 6 }, readyChild));
    for (let round = 0; round < 10; round += 1) {
      rmSync(join(dataDir, 'in-use'), { recursive: true, force: true });
      leaveHolder({ ...ended, token: `ended-${round}` });
      const answers = await Promise.all(children.map(tryToHold));
      expect(answers.filter((word) => word === 'held')).toHaveLength(1);
      expect(answers.filter((word) => /DataDirectoryInUseError/.test(String(word)))).toHaveLength(5);
      const holder = JSON.parse(readFileSync(join(dataDir, 'in-use', 'holder.json'), 'utf8')) as {
        pid: number;
      };
      expect(holder.pid).toBe(children[answers.indexOf('held')]?.pid);
    }
  });

  it('clears away the locks of ended processes after a day', () => {
    leaveHolder(ended);
    lockDataDirectory(dataDir, new Date()).release();
    expect(readdirSync(dataDir)).toEqual(['in-use.gone-ended']);
    lockDataDirectory(dataDir, new Date(Date.now() + 25 * 3600 * 1000)).release();
    expect(readdirSync(dataDir)).toEqual([]);
  });
});
