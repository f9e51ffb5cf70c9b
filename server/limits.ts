/** Every limit of the server in one place. A test may lower one; the product documents these. */
export interface Limits {
  /** Bytes of a JSON body. */
  readonly jsonBytes: number;
  /** Bytes of a capture in CSV. */
  readonly captureBytes: number;
  /** Predicted work of one request answered at once, in class-steps (see engine/cost.ts). */
  readonly singleWork: number;
  /** Predicted work of one study, fit or diagnosis, in class-steps. */
  readonly jobWork: number;
  /** Steps and output samples of one cycle, together: what is kept in memory. */
  readonly samples: number;
  /** ms that a request answered at once may take. */
  readonly singleTime: number;
  /** ms that a job may take. */
  readonly jobTime: number;
  /** ms after a passed time limit until the worker's thread is ended by force. */
  readonly grace: number;
  /** Requests answered at once that may wait for the reserved workers, and those of one client among them. */
  readonly singleQueue: number;
  readonly singleShare: number;
  /** Jobs that may wait, and those of one client among them. */
  readonly jobQueue: number;
  readonly jobShare: number;
  /** Finished jobs kept for reading. */
  readonly jobsKept: number;
  /** Bytes of results of finished jobs, together; the newest is kept whatever it has. */
  readonly resultBytes: number;
  /** Bytes of bodies that may be on their way at the same time, and those of one client among them. */
  readonly uploadBytes: number;
  readonly uploadShare: number;
  /** Connections of one address. */
  readonly connections: number;
  /** Requests per minute and client. */
  readonly requestsPerMinute: number;
  /** Names in the folder of saved designs, and in that of captures. */
  readonly savedNames: number;
  /** Versions kept of one saved design. */
  readonly savedVersions: number;
}

export const LIMITS: Limits = {
  jsonBytes: 1_048_576,
  captureBytes: 67_108_864,
  singleWork: 64e9,
  jobWork: 1e12,
  samples: 1_000_000,
  singleTime: 30_000,
  jobTime: 3_600_000,
  grace: 150,
  singleQueue: 64,
  singleShare: 32,
  jobQueue: 32,
  jobShare: 16,
  jobsKept: 100,
  resultBytes: 100_663_296,
  uploadBytes: 268_435_456,
  uploadShare: 134_217_728,
  connections: 256,
  requestsPerMinute: 3000,
  savedNames: 1000,
  savedVersions: 100,
};
