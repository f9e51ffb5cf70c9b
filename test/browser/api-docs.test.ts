import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TestServer } from '../server/http-client.ts';
import { constantRunner, startTestServer } from '../server/http-client.ts';
import { browserPath, launch } from './chromium.ts';

/** The page at /api/docs, under the server's own policy. */
let browser: Browser;
let server: TestServer;
beforeAll(async () => {
  if (browserPath === undefined) return;
  browser = await launch();
  server = await startTestServer({ runner: constantRunner('{"answer":1}') });
});
afterAll(async () => {
  await browser?.close();
  await server?.close();
});

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

describe.each(['light', 'dark'] as const)('the HTTP interface to read and try, in %s', (colorScheme) => {
  it.skipIf(browserPath === undefined)(
    'names every address, opens one by its name, asks it, and axe finds nothing',
    async () => {
      const page = await browser.newPage({ colorScheme });
      const told: string[] = [];
      page.on('console', (message) => told.push(message.text()));
      page.on('pageerror', (error) => told.push(String(error)));
      await page.goto(`http://localhost:${server.port}/api/docs#post-api-v1-simulations`);
      const simulations = page.locator('#post-api-v1-simulations');
      await simulations.getByRole('button', { name: 'Send' }).click();
      await expect.poll(() => simulations.locator('pre').textContent()).toBe('{"answer":1}');
      const document = JSON.parse((await server.ask('/api/v1/openapi.json')).body) as {
        paths: Record<string, object>;
      };
      const operations = Object.values(document.paths).flatMap((path) => Object.keys(path));
      expect(await page.locator('details.operation').count()).toBe(operations.length);
      await simulations.getByText('mat').first().click();
      const saved = page.locator('[id="get-api-v1-designs-saved-name-"]');
      await saved.locator('summary').first().click();
      await saved.getByLabel('name').fill('nothing of this name');
      await saved.getByRole('button', { name: 'Send' }).click();
      await expect.poll(() => saved.locator('pre').textContent()).toContain('not-found');
      expect(told.filter((line) => !line.includes('404'))).toEqual([]);
      // The policy forbids scripts from elsewhere, so axe comes through the browser's own door.
      await page.evaluate(AXE);
      const faults = await page.evaluate(async () => {
        const { axe } = globalThis as unknown as {
          axe: { run: () => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
        };
        return (await axe.run()).violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`);
      });
      expect(faults).toEqual([]);
      await page.close();
    },
  );
});
