import { describe, expect, it } from 'vitest';
import { circlesIn, readImports } from '../web/read-imports.ts';

/** What the server may take besides itself and the engine. */
const PACKAGES = [
  'cli-progress',
  'commander',
  'compression',
  'express',
  'express-rate-limit',
  'helmet',
  'pino',
  'pino-http',
  'piscina',
  'zod',
  'zod-openapi',
];

const modules = readImports('server');

describe('the server', () => {
  it('imports itself and files of the engine, never its index and never the page', () => {
    expect(modules.length).toBeGreaterThan(40);
    const strays = modules.flatMap(({ file, modules: targets }) =>
      targets
        .filter((name) => !/^(server|engine)\//u.test(name) || name === 'engine/index.ts')
        .map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('takes only the packages of the list', () => {
    const strays = modules.flatMap(({ file, packages }) =>
      packages
        .filter((name) => !name.startsWith('node:') && !PACKAGES.includes(name))
        .map((name) => `${file} -> ${name}`),
    );
    expect(strays).toEqual([]);
  });

  it('holds no circle of files, types counted', () => {
    expect(circlesIn(new Map(modules.map(({ file, atOnce }) => [file, atOnce])))).toEqual([]);
  });

  it('has commands that know nothing of routes, and routes that know nothing of commands', () => {
    const crossing = modules.flatMap(({ file, modules: targets }) =>
      targets
        .filter(
          (name) =>
            (file.startsWith('server/commands/') && name.startsWith('server/routes/')) ||
            (file.startsWith('server/routes/') && name.startsWith('server/commands/')),
        )
        .map((name) => `${file} -> ${name}`),
    );
    expect(crossing).toEqual([]);
  });
});
