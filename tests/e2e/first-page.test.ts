import { expect, it } from 'vitest';
import { textOf } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('the first page of an empty mill', { empty: true }, (mill) => {
  it('comes up under its own content security policy', async () => {
    const page = await mill.openTab();
    const answer = await page.goto('/', { waitUntil: 'networkidle' });
    expect(answer?.headers()['content-security-policy']).toContain("script-src 'self'");
    expect(await page.title()).toContain('Poursheet');
    expect(await page.getByRole('note').filter({ hasText: 'Demo season' }).count()).toBe(0);
  });

  it.each(['/nowhere', '/lots/00000000-0000-4000-8000-000000000000'])(
    'says of %s that there is no such thing, and leads on',
    async (address) => {
      const page = await mill.openTab();
      await page.goto(address);
      expect(await textOf(page.getByRole('heading', { level: 1 }))).toBe('Not found');
      await page.getByRole('navigation', { name: 'Contents' }).getByRole('link', { name: 'Lots' }).click();
      await page.getByRole('heading', { level: 1, name: 'Lots' }).waitFor();
      // The browser notes what it was told, and nothing else.
      for (const complaint of mill.takeComplaints())
        expect(complaint).toMatch(/status of 404|There is no such lot/);
    },
  );
});
