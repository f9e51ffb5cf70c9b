import { Writable } from 'node:stream';
import { expect, it } from 'vitest';
import { withProgress } from '../../server/commands/with-progress.ts';

it('a fit whose standard error goes into a file tells how far it is, first after two seconds, then every five', () => {
  let text = '';
  const errors = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      text += chunk.toString();
      done();
    },
  });
  let clock = 0;
  const result = withProgress(
    { errors },
    'faults',
    ({ onProgress }) => {
      for (let done = 0; done < 100; done++) {
        clock += 100;
        onProgress!({ done, planned: 100, runs: 3 * done });
      }
      return 'done';
    },
    () => clock,
  );
  expect(result).toBe('done');
  expect(text).toBe('19 of 100 faults, 57 runs of the model\n69 of 100 faults, 207 runs of the model\n');
});

it('work that ends later is told as it goes, and where no model is run no runs are told', async () => {
  let text = '';
  const errors = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      text += chunk.toString();
      done();
    },
  });
  let clock = 0;
  const result = withProgress(
    { errors },
    'steps',
    async ({ onProgress }) => {
      for (let done = 1; done <= 3; done++) {
        clock += 3000;
        await Promise.resolve();
        onProgress!({ done, planned: 3, runs: done === 3 ? 7 : 0 });
      }
      return 'done';
    },
    () => clock,
  );
  expect(await result).toBe('done');
  expect(text).toBe('1 of 3 steps\n3 of 3 steps, 7 runs of the model\n');
});
