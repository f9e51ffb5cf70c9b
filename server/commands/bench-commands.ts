import type { Command } from 'commander';
import { UNKNOWNS } from '../../engine/fitting/unknown-table.ts';
import { diagnoseCommand, fitCommand } from './bench.ts';
import { coreCommand } from './core.ts';
import { nextCommand } from './next.ts';
import { predictCommand } from './predict.ts';
import { benchOptions, collect, DESIGN, formatOption, outlookOptions, outputOption } from './options.ts';
import type { Take } from './options.ts';
import { readsCommand } from './reads.ts';
import type { Terminal } from './terminal.ts';

/** Commands that take what was measured. */
export function declareBenchCommands(root: Command, terminal: Terminal, take: Take): void {
  root
    .command('core')
    .argument(
      '<values>',
      'handbook values of one core, or a file that lists captures of it; - for standard input',
    )
    .description(
      'model parameters from handbook or bench values of one core, from captures of it on a jig (then uV1, t_p, t_s and dVz are read off them), or fitted to several captures at once with the currents that drove it',
    )
    .option('--one <capture>', 'CSV of a read of an undisturbed ONE at full drive')
    .option('--zero <capture>', 'CSV of a read of a disturbed ZERO at full drive')
    .addOption(
      collect(
        '--edge <time>',
        'where the drive\'s rise starts on a capture\'s own time, such as "0 ns" or "2:40 ns"',
      ),
    )
    .addOption(
      collect(
        '--current <number>',
        'which trace of a capture is the drive current: edge, rise and full drive are read off it (repeatable: 2:3)',
      ),
    )
    .option('--gain <number>', 'volts in the captures over volts per turn at the core (default: 1)')
    .addOption(collect('--read <name=value>', 'how to read what a capture leaves open (repeatable)'))
    .addOption(collect('--trace <number>', 'which trace of a capture, from 1 (repeatable: 2:3)'))
    .option(
      '--save <file>',
      'write the handbook file of the core; of several captures, what a design takes as "core"',
    )
    .option('--keep <list>', 'put the core into a list of your own, as the page keeps it')
    .addOption(formatOption())
    .addOption(outputOption())
    .action((path: string, options) => take(coreCommand(path, options, terminal)));
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
    .option('--save <file>', 'write the fitted design file, if the fit has converged (else exit with 5)')
    .option('--save-anyway', 'write it although the fit has not converged')
    .action((design: string, captures: string[], options) =>
      take(fitCommand(design, captures, options, terminal)),
    );
  outlookOptions(
    root
      .command('predict')
      .argument('<fit>', 'what fit answered in JSON (--format json), or a design file; - for standard input')
      .description(
        'what a design will do that is known as far as captures told it: another size, current, temperature or winding, with 95 % intervals, and what lies outside what was measured',
      ),
    ['text', 'json', 'csv'],
  )
    .option('--observed <where>', 'where traces are told: sense, amplifier (default: sense)')
    .action((path: string, options) => take(predictCommand(path, options, terminal)));
  outlookOptions(
    root
      .command('next')
      .argument('<fit>', 'what fit answered in JSON (--format json), or a design file; - for standard input')
      .description(
        'what to measure next: captures of the mat, line currents and readings of one core, ranked by how far each narrows the interval of the margin; with --format html a sheet to print',
      ),
    ['text', 'json', 'html'],
  ).action((path: string, options) => take(nextCommand(path, options, terminal)));
  benchOptions(
    root
      .command('diagnose')
      .argument('<design>', DESIGN)
      .argument('<captures...>', 'captures as CSV of the build that fails')
      .description(
        'faults, and pairs of them, ranked by how well each explains the captures, and what those support',
      ),
  )
    .addOption(
      collect(
        '--healthy <number>',
        'which capture was taken of a healthy build, or at a healthy address, to compare with (repeatable)',
      ),
    )
    .option('--strobe-at <time>', 'where the strobe was seen on the first capture, such as "480 ns"')
    .action((design: string, captures: string[], options) =>
      take(diagnoseCommand(design, captures, options, terminal)),
    );
  root
    .command('reads')
    .argument('<design>', DESIGN)
    .description(
      'many reads of cores that held a ONE and a ZERO, on one trigger: how they spread, limits of tolerance, the best strobe and threshold with the chance of a wrong bit, beside what the design predicts',
    )
    .requiredOption('--one <captures...>', 'CSVs of reads of ONEs, one read each or segments of many')
    .requiredOption('--zero <captures...>', 'CSVs of reads of ZEROs')
    .addOption(collect('--read <name=value>', 'how to read what the captures leave open (repeatable)'))
    .option('--trace <number>', 'which trace of the captures, from 1')
    .option('--observed <where>', 'where the probe was: sense, amplifier', 'sense')
    .option(
      '--start <time>',
      'where the read starts on the captures\' own time, such as "0 ns" (default: found)',
    )
    .option('--content <share>', 'share of reads of the normal limits (default: 0.999)')
    .addOption(formatOption())
    .addOption(outputOption())
    .action((design: string, options) => take(readsCommand(design, options, terminal)));
}
