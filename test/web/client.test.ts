import { beforeEach, describe, expect, it } from 'vitest';
import { createWorkerClient, type FromWorker, type ToWorker } from '../../web/compute/client.ts';

interface SumTasks {
  readonly sum: { readonly ask: number; readonly piece: number; readonly answer: number };
}

/** A worker that answers when the test says so. */
class FakeWorker extends EventTarget {
  asked: ToWorker[] = [];
  ended = false;
  postMessage(message: ToWorker): void {
    this.asked.push(message);
  }
  terminate(): void {
    this.ended = true;
  }
  say(message: FromWorker): void {
    this.dispatchEvent(new MessageEvent('message', { data: message }));
  }
}

describe('the client of workers', () => {
  let workers: FakeWorker[];
  let heard: string[];
  beforeEach(() => {
    workers = [];
    heard = [];
  });
  const client = (cutAfter: number) =>
    createWorkerClient<SumTasks>(
      () => {
        const made = new FakeWorker();
        workers.push(made);
        return made as unknown as Worker;
      },
      { cutAfter },
    );
  const hearing = (name: string) => ({
    onPiece: (piece: number) => heard.push(`${name} piece ${piece}`),
    onAnswer: (answer: number) => heard.push(`${name} answer ${answer}`),
    onFailed: ({ message, lost }: { message: string; lost: boolean }) =>
      heard.push(`${name} ${lost ? 'lost' : message}`),
  });
  const answer = (worker: FakeWorker, value: number, i = -1): void =>
    worker.say({ id: worker.asked.at(i)!.id, is: 'answer', answer: value });

  it('tells the pieces of a question and then its answer', () => {
    const asks = client(Infinity);
    asks.ask('sum', 1, hearing('a'));
    expect(asks.busy).toBe(true);
    workers[0]!.say({ id: workers[0]!.asked[0]!.id, is: 'piece', piece: 0.5 });
    answer(workers[0]!, 3);
    expect(heard).toEqual(['a piece 0.5', 'a answer 3']);
    expect(asks.busy).toBe(false);
  });

  it('lets short work finish unheard and asks only the newest of what waits', () => {
    const asks = client(Infinity);
    for (const name of ['a', 'b', 'c']) asks.ask('sum', 1, hearing(name));
    workers[0]!.say({ id: workers[0]!.asked[0]!.id, is: 'piece', piece: 0.5 });
    answer(workers[0]!, 1);
    answer(workers[0]!, 3);
    expect(heard).toEqual(['c answer 3']);
    expect(workers).toHaveLength(1);
    expect(workers[0]!.asked).toHaveLength(2);
  });

  it('ends older work with its worker where it is told to, and hears nothing of it any more', () => {
    const asks = client(0);
    asks.ask('sum', 1, hearing('a'));
    asks.ask('sum', 2, hearing('b'));
    expect(workers[0]!.ended).toBe(true);
    answer(workers[0]!, 1);
    answer(workers[1]!, 2);
    expect(heard).toEqual(['b answer 2']);
  });

  it('calls nothing back after it was cancelled', () => {
    const asks = client(0);
    asks.ask('sum', 1, hearing('a'));
    asks.cancel();
    answer(workers[0]!, 1);
    expect([heard, asks.busy]).toEqual([[], false]);
  });

  it('tells a failure with its sentence, a lost worker as lost, and goes on after either', () => {
    const asks = client(0);
    asks.ask('sum', 1, hearing('a'));
    workers[0]!.say({ id: workers[0]!.asked[0]!.id, is: 'failed', message: 'no such sum', field: '' });
    asks.ask('sum', 2, hearing('b'));
    workers[0]!.dispatchEvent(new Event('error'));
    asks.ask('sum', 3, hearing('c'));
    answer(workers[1]!, 3);
    expect(heard).toEqual(['a no such sum', 'b lost', 'c answer 3']);
  });
});
