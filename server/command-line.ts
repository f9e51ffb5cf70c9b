import { Argument, Command, CommanderError, Option } from 'commander';
import { VERSION } from '../engine/base/version.ts';
import { designJsonSchema } from '../engine/design/schema/design-schema.ts';
import { UNKNOWNS } from '../engine/fitting/unknowns.ts';
import { needsJsonSchema } from '../engine/propose/needs.ts';
import { STUDY_KINDS } from '../engine/studies/shared/shape.ts';
import { diagnoseCommand, fitCommand } from './commands/bench.ts';
import { channelCommand } from './commands/channel.ts';
import { checkCommand } from './commands/check.ts';
import { coreCommand } from './commands/core.ts';
import { benchOptions, collect, formatOption, outputOption, requireOption } from './commands/options.ts';
import { carryCommand, FITTED_STAGES } from './commands/carry.ts';
import { packCommand } from './commands/pack.ts';
import type { Terminal } from './commands/terminal.ts';
import { writeOutput } from './commands/write-output.ts';
import { reportCommand } from './commands/report.ts';
import { simulateCommand, windowCommand } from './commands/simulate.ts';
import { LIMITS } from './limits.ts';
import { studyHelp, studyKindsHelp } from './print/study-help.ts';
import { printable } from './print/printable.ts';
import { toRequestError } from './request-error.ts';

const DESIGN = 'design file, or - for standard input';

/**
 * Runs one command. Returns the exit status: 0 done, 2 refused, 3 requirement not met, 4 merge lacks points, 1 fault
 * inside, 130 stopped by Ctrl-C.
 */
export async function runCommandLine(words: readonly string[], terminal: Terminal): Promise<number> {
  try {
    return await runCommand(words, terminal);
  } catch (error) {
    const refusal = toRequestError(error);
    terminal.errors.write(
      `${refusal === undefined ? faultSentence(error) : oneLine(printable(refusal.message))}\n`,
    );
    return refusal === undefined ? 1 : 2;
  }
}

async function runCommand(words: readonly string[], terminal: Terminal): Promise<number> {
  let status = 0;
  const helpPrinted: Promise<void>[] = [];
  const root = new Command('strobewright')
    .description('Predicts the sense waveform of a coincident-current core memory and says when to strobe.')
    .version(VERSION)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => void helpPrinted.push(terminal.print(text)),
      writeErr: (text) => void terminal.errors.write(printable(text)),
    })
    .showHelpAfterError('(add --help for what there is)');
  addCommands(root, terminal, (promise) => promise.then((code) => void (status = code)));
  try {
    await root.parseAsync(words, { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode !== 0) return 2;
  }
  await Promise.all(helpPrinted);
  return status;
}

function addCommands(
  root: Command,
  terminal: Terminal,
  take: (promise: Promise<number>) => Promise<void>,
): void {
  root
    .command('check')
    .argument('<design>', DESIGN)
    .description('validates a design and prints what a builder should be warned of')
    .addOption(formatOption())
    .addOption(outputOption())
    .action((path: string, options) => take(checkCommand(path, options, terminal)));
  root
    .command('core')
    .argument('<handbook>', 'handbook values of one core, or - for standard input')
    .description(
      'model parameters from handbook or bench values of one core, or from captures of it on a jig (then uV1, t_p, t_s and dVz are read off them)',
    )
    .option('--one <capture>', 'CSV of a read of an undisturbed ONE at full drive')
    .option('--zero <capture>', 'CSV of a read of a disturbed ZERO at full drive')
    .addOption(
      collect(
        '--edge <time>',
        'where the drive\'s rise starts on a capture\'s own time, such as "0 ns" or "2:40 ns"',
      ),
    )
    .option('--gain <number>', 'volts in the captures over volts per turn at the core (default: 1)')
    .addOption(collect('--read <name=value>', 'how to read what a capture leaves open (repeatable)'))
    .addOption(collect('--trace <number>', 'which trace of a capture, from 1 (repeatable: 2:3)'))
    .option('--save <file>', 'write the handbook file of the core')
    .option('--keep <list>', 'put the core into a list of your own, as the page keeps it')
    .addOption(formatOption())
    .addOption(outputOption())
    .action((path: string, options) => take(coreCommand(path, options, terminal)));
  root
    .command('simulate')
    .argument('<design>', DESIGN)
    .description('traces, contributions, currents, stored flux, energy balance, the bit read')
    .addOption(formatOption())
    .addOption(outputOption())
    .option('--spectrum', 'with --format json: spectrum of the ONE against its noise')
    .action((path: string, options) => take(simulateCommand(path, options, terminal)));
  root
    .command('channel')
    .argument('<design>', DESIGN)
    .description(
      'disturbed ONE and ZERO and the worst history, inhibit recovery, words of the stack, drivers and supply',
    )
    .addOption(formatOption())
    .addOption(outputOption())
    .action((path: string, options) => take(channelCommand(path, options, terminal)));
  root
    .command('window')
    .argument('<design>', DESIGN)
    .description(
      'strobe window, threshold window, best pair, margins, what each contribution adds at the strobe',
    )
    .addOption(formatOption())
    .addOption(outputOption())
    .addOption(requireOption())
    .option('--advice', 'also what uses the margin up and which single change would restore it')
    .action((path: string, options) => take(windowCommand(path, options, terminal)));
  root
    .command('study')
    .argument('<kind>', STUDY_KINDS.join(', '))
    .argument('<design>', DESIGN)
    .description(
      'many runs: how it scales, how it fails, what it tolerates; Ctrl-C keeps what is done, marked partial, and exits with 130',
    )
    .option('--workers <number>', 'threads (default: one a processor)')
    .option('--seed <number>', 'seed of the draws; the answer repeats it')
    .option('--shard <I/N>', 'only every Nth point, from the Ith on; merge puts the shards together')
    .addOption(collect('--option <name=value>', "an option of the kind, such as 'rows=5' (repeatable)"))
    .addOption(formatOption())
    .addOption(outputOption())
    .addHelpText('after', ({ command }) => {
      const kind = STUDY_KINDS.find((known) => command.args.includes(known));
      return kind === undefined ? studyKindsHelp() : studyHelp(kind);
    })
    .action((kind: string, path: string, options) =>
      take(studies().then(({ studyCommand }) => studyCommand(kind, path, options, terminal))),
    );
  root
    .command('merge')
    .argument('<studies...>', 'the JSON of shards of one study')
    .description('puts the shards of a study together; exits with 4 where points are missing')
    .addOption(formatOption())
    .addOption(outputOption())
    .action((paths: string[], options) =>
      take(import('./commands/merge.ts').then(({ mergeCommand }) => mergeCommand(paths, options, terminal))),
    );
  benchOptions(
    root
      .command('fit')
      .argument('<design>', DESIGN)
      .argument('<captures...>', 'captures as CSV, taken under the conditions of the design')
      .description(
        'lines captures up with the prediction and finds chosen unknowns, with uncertainties; without --unknown it only compares',
      ),
  )
    .addOption(collect('--unknown <name>', `what to find (repeatable): ${Object.keys(UNKNOWNS).join(', ')}`))
    .addOption(
      collect('--start <name=value>', 'where an unknown starts, such as "coreFlux=3 nWb" (repeatable)'),
    )
    .addOption(
      collect('--bounds <name=low..high>', 'how far it may go, such as "coreFlux=2 nWb..4 nWb" (repeatable)'),
    )
    .option('--iterations <number>', 'iterations at most (default: 40)')
    .option('--save <file>', 'write the fitted design file')
    .action((design: string, captures: string[], options) =>
      take(fitCommand(design, captures, options, terminal)),
    );
  benchOptions(
    root
      .command('diagnose')
      .argument('<design>', DESIGN)
      .argument('<captures...>', 'captures as CSV of the build that fails')
      .description('single faults ranked by how well each explains the captures'),
  )
    .option('--strobe-at <time>', 'where the strobe was seen on the first capture, such as "480 ns"')
    .action((design: string, captures: string[], options) =>
      take(diagnoseCommand(design, captures, options, terminal)),
    );
  root
    .command('propose')
    .argument('<needs>', 'needs file, or - for standard input')
    .description(
      'builds that do what is asked for at the worst corner, each shown by its own strobe window, or what stands in the way; exits with 3 where there is none; Ctrl-C tells the best found so far and exits with 130',
    )
    .option('--workers <number>', 'threads (default: one a processor); the answer is the same for any number')
    .option('--save <folder>', 'write the proposed designs as files into a folder')
    .addOption(new Option('--format <form>', 'form of the answer').choices(['text', 'json']).default('text'))
    .addOption(outputOption())
    .action((path: string, options) =>
      take(
        import('./commands/propose.ts').then(({ proposeCommand }) => proposeCommand(path, options, terminal)),
      ),
    );
  root
    .command('report')
    .argument('<design>', DESIGN)
    .description('one self-contained HTML file to print')
    .option('--advice', 'also what uses the margin up and which single change would restore it')
    .addOption(outputOption())
    .action((path: string, options) => take(reportCommand(path, options, terminal)));
  root
    .command('pack')
    .argument('<design>', DESIGN)
    .description(
      'what to build from: threading, timing, parts, what to measure on one core, stages on the way, first power-up and test',
    )
    .option('--output <folder>', 'write the sheets as files into a folder')
    .action((path: string, options) => take(packCommand(path, options, terminal)));
  root
    .command('carry')
    .argument('<design>', DESIGN)
    .argument('<fitted>', 'the design of one of its stages (of pack), as fit --save wrote it')
    .description(
      'takes what captures of a stage have found over into the final design; says what stays with the stage, and why',
    )
    .addOption(
      new Option('--stage <name>', 'which stage was fitted').choices(FITTED_STAGES).makeOptionMandatory(),
    )
    .addOption(outputOption())
    .action((design: string, fitted: string, options) =>
      take(carryCommand(design, fitted, options, terminal)),
    );
  root
    .command('schema')
    .description('the JSON Schema of a design, or of a needs file')
    .addArgument(new Argument('[file]', 'what kind of file').choices(['design', 'needs']).default('design'))
    .addOption(outputOption())
    .action((kind: 'design' | 'needs', options: { output?: string }) => {
      const schema = kind === 'design' ? designJsonSchema() : needsJsonSchema();
      return writeOutput(`${JSON.stringify(schema, null, 2)}\n`, options.output, terminal);
    });
  root
    .command('serve')
    .description('the page and the HTTP interface')
    .option(
      '--host <address>',
      'address to listen on; anything but loopback is open to the network',
      '127.0.0.1',
    )
    .addOption(new Option('--port <number>', 'port to listen on, 0 for any').env('PORT').default('8047'))
    .option('--data <folder>', 'folder of saved designs and captures', 'data')
    .option('--workers <number>', 'threads for studies and fits (default: one a processor)')
    .option('--rate <number>', 'requests a minute answered to one client', String(LIMITS.requestsPerMinute))
    .option(
      '--client-header <name>',
      'behind a proxy: the header in which it names the client, such as X-Forwarded-For (default: one address, one client)',
    )
    .addOption(
      new Option('--log-level <level>', 'what is logged on standard error')
        .choices(['silent', 'error', 'warn', 'info', 'debug'])
        .default('warn'),
    )
    .action((flags) =>
      take(import('./commands/serve.ts').then(({ serveCommand }) => serveCommand(flags, terminal))),
    );
}

// What needs workers or the web server is loaded when it is asked for: one run should start at once.
const studies = () => import('./commands/study.ts');

/** A path may hold line ends; a refusal is one line all the same. */
const oneLine = (text: string): string => text.replaceAll('\n', '\\n');

/** A fault of our own, without its inside unless STROBEWRIGHT_DEBUG asks for it. */
function faultSentence(error: unknown): string {
  const inside =
    process.env['STROBEWRIGHT_DEBUG'] !== undefined && error instanceof Error ? `\n${error.stack}` : '';
  return `A fault inside Strobewright, not in what was asked: please report the command and the file.${inside}`;
}
