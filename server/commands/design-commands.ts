import { Option } from 'commander';
import type { Command } from 'commander';
import { carryCommand, FITTED_STAGES } from './carry.ts';
import { channelCommand } from './channel.ts';
import { checkCommand } from './check.ts';
import { DESIGN, formatOption, outputOption, requireOption } from './options.ts';
import { packCommand } from './pack.ts';
import type { Take } from './options.ts';
import type { Terminal } from './terminal.ts';
import { reportCommand } from './report.ts';
import { simulateCommand, windowCommand } from './simulate.ts';

/** Commands that take one design and answer about it. */
export function declareDesignCommands(root: Command, terminal: Terminal, take: Take): void {
  root
    .command('check')
    .argument('<design>', DESIGN)
    .description('validates a design and prints what a builder should be warned of')
    .addOption(formatOption())
    .addOption(outputOption())
    .action((path: string, options) => take(checkCommand(path, options, terminal)));
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
}
