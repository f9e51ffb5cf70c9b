import { Option, type Command } from 'commander';

/** Takes what a command comes to: its exit status. */
export type Take = (promise: Promise<number>) => Promise<void>;

export const DESIGN = 'design file, or - for standard input';

/** What fit and diagnose have in common. What is about one capture may begin with its number, as in `2:amplifier`. */
export const benchOptions = (command: Command): Command =>
  command
    .addOption(
      collect(
        '--read <name=value>',
        'how to read what a capture leaves open, such as timeUnit=ns, or 2:timeUnit=ns for the second (repeatable)',
      ),
    )
    .addOption(
      collect(
        '--set <pointer=value>',
        'how its conditions differ from the design, such as 2:/selected/bit=0 (repeatable)',
      ),
    )
    .addOption(collect('--trace <number>', 'which trace of a capture, from 1 (repeatable: 2:3)'))
    .addOption(
      collect('--observed <where>', 'where the probe was: sense, amplifier (repeatable: 2:amplifier)'),
    )
    .addOption(collect('--part <what>', 'what it holds: read, any (part of the cycle)'))
    .addOption(collect('--polarity <how>', 'how the probe lies: either, as-predicted, reversed'))
    .addOption(
      collect(
        '--probe <factor>',
        'volts in a capture over volts at the tip of the probe, where known: 0.1 where a x10 probe was not told to the instrument (repeatable: 2:0.1); left out, it is looked for',
      ),
    )
    .addOption(
      collect(
        '--bandwidth <frequency>',
        'bandwidth of the instrument and its probe, such as "60 MHz", or free: a fit finds it (repeatable: 2:free)',
      ),
    )
    .addOption(collect('--probe-gain <how>', 'is the gain of the probe known? fixed, free'))
    .addOption(
      collect(
        '--drive-trace <number>',
        'which trace of a capture is the read current of X and of Y, as measured (repeatable: 2:3)',
      ),
    )
    .addOption(formatOption())
    .addOption(outputOption());

/** What looks ahead from a fit has in common. */
export const outlookOptions = (command: Command, forms: readonly string[]): Command =>
  command
    .addOption(
      collect(
        '--set <pointer=value>',
        'what is to be otherwise, such as /mat/rows=16 or "/drive/x/readAmplitude=0.4 A" (repeatable)',
      ),
    )
    .addOption(new Option('--format <form>', 'form of the answer').choices([...forms]).default('text'))
    .addOption(outputOption());

export const formatOption = (): Option =>
  new Option('--format <form>', 'form of the answer').choices(['text', 'json', 'csv']).default('text');
export const outputOption = (): Option =>
  new Option('--output <file>', 'write to a file, whole or not at all');
export const requireOption = (): Option =>
  collect(
    '--require <what>',
    'exit with 3 unless met: design, a set of cases (nominal, corners, parts, core, numbers) instead of those that the design asks for (with design: besides them), "20 mV" of margin, "30 ns" of width (repeatable; all of it together)',
  );
export const collect = (flags: string, description: string): Option =>
  new Option(flags, description).argParser((word: string, before: readonly string[] = []) => [
    ...before,
    word,
  ]);
