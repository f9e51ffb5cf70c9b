// A worker that misbehaves as its task's design name says; for tests of what a lost worker costs.
const body = (text) => new TextEncoder().encode(text);
const waitFor = (ms, until = () => false) => {
  const end = Date.now() + ms;
  while (Date.now() < end && !until());
};

export default async function odd({ task, control, timeLimit }) {
  const flag = new Int32Array(control);
  const word = task.design.name;
  if (word === 'exit') process.exit(3);
  if (word === 'throw') throw new Error('planted fault with /a/path inside');
  if (word === 'late-throw') {
    setTimeout(() => {
      throw new Error('planted late fault');
    }, 20);
    await new Promise((resolve) => setTimeout(resolve, 5000));
  }
  if (word === 'memory') {
    const kept = [];
    for (;;) kept.push(Array.from({ length: 10_000 }, () => kept.length));
  }
  if (word === 'deaf') waitFor(60_000);
  if (word === 'polite') {
    const deadline = Date.now() + timeLimit;
    waitFor(60_000, () => Atomics.load(flag, 0) === 1 || Date.now() > deadline);
    const failure = { status: 422, code: Atomics.load(flag, 0) === 1 ? 'cancelled' : 'time-limit' };
    return { failure: { ...failure, field: null, message: 'Stopped.', limit: null } };
  }
  if (word.startsWith('sleep-')) await new Promise((resolve) => setTimeout(resolve, Number(word.slice(6))));
  return { answer: { body: body(`done ${word}`) } };
}
