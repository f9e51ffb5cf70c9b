// A bare process that sleeps 5 ms and works 2 ms by turns; after each turn it tells how many ms that took too long.
const SLEEP = 5;
const WORK = 2;

for (;;) {
  const start = performance.now();
  await new Promise((resolve) => setTimeout(resolve, SLEEP));
  const before = process.cpuUsage();
  let used = 0;
  while (used < WORK) {
    const { user, system } = process.cpuUsage(before);
    used = (user + system) / 1000;
  }
  process.stdout.write(`${Math.max(0, performance.now() - start - SLEEP - used).toFixed(3)}\n`);
}
