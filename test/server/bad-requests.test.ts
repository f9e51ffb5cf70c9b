import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BAD_REQUESTS } from './bad-requests.ts';
import type { TestServer } from './http-client.ts';
import { constantRunner, startTestServer } from './http-client.ts';

let server: TestServer;
beforeAll(async () => {
  server = await startTestServer({ runner: constantRunner('{}') });
});
afterAll(() => server.close());

describe('the corpus of bad requests', () => {
  it('holds at least 200', () => {
    expect(BAD_REQUESTS.length).toBeGreaterThanOrEqual(200);
  });

  it.each(BAD_REQUESTS.map((request, i) => [i, request.name, request] as const))(
    '%i: %s is refused in one sentence without our inside',
    async (_i, _name, { path, sent, status, code, field }) => {
      const reply = await server.ask(path, sent);
      expect([reply.status, reply.body]).toEqual([status, expect.any(String)]);
      const body = JSON.parse(reply.body) as Record<string, unknown>;
      expect(Object.keys(body)).toEqual(['code', 'field', 'message', 'limit']);
      if (code !== '') expect(body.code).toBe(code);
      expect(body.message).toMatch(/[.?]$/);
      expect(String(body.message).length).toBeLessThan(600);
      expect(reply.body).not.toMatch(
        /\bat \S+:\d+:\d+|node_modules|\/server\/|\/engine\/|\.ts\b|\b[A-Z]\w*Error: /,
      );
      if (field !== undefined) expect(body.field).toBe(field);
    },
  );

  it('leaves a server that still answers', async () => {
    expect((await server.ask('/healthz')).status).toBe(200);
  });
});
