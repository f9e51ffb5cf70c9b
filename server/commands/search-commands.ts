import type { Command } from 'commander';
import { Option } from 'commander';
import { STUDY_KINDS } from '../../engine/studies/shared/shape.ts';
import { collect, DESIGN, formatOption, outputOption } from './options.ts';
import type { Take } from './options.ts';
import type { Terminal } from './terminal.ts';
import { studyHelp, studyKindsHelp } from '../print/study-help.ts';

/** Commands of many runs, on as many threads as there are. */
export function declareSearchCommands(root: Command, terminal: Terminal, take: Take): void {
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
      take(import('./merge.ts').then(({ mergeCommand }) => mergeCommand(paths, options, terminal))),
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
      take(import('./propose.ts').then(({ proposeCommand }) => proposeCommand(path, options, terminal))),
    );
}

// What needs workers is loaded when it is asked for: one run should start at once.
const studies = () => import('./study.ts');
