import work from '../../../dist/server/worker.js';

/** The real worker, which dies at the fourth point of a study. */
export default function dying(message) {
  if (message.task.kind === 'study-point' && message.task.job.index === 3) process.exit(1);
  return work(message);
}
