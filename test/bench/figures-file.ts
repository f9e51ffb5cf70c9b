import { existsSync, readFileSync, writeFileSync } from 'node:fs';

/** What the bench printed last, group by group: written by the command that measures, never by hand. */
const FILE = new URL('README.md', import.meta.url);
const HEAD = `# What \`npm run bench\` measured last

Written by the command itself: each group anew whenever it is measured (\`npm run bench -- --only GROUP\`). Medians of CPU time unless a heading says wall time; compare within a group, which was measured in one run on one machine. What is aimed at stands under a figure; known limits in \`limits.md\`.
`;

/** Put a group's lines in place of what it printed before. `on`: date and machine, in words. */
export function recordGroup(group: string, lines: readonly string[], on: string, file = FILE): void {
  const others = existsSync(file) ? groupsOf(readFileSync(file, 'utf8')) : [];
  const own = `## ${group}\n\n${on}\n\n\`\`\`\n${lines.join('\n').trim()}\n\`\`\`\n`;
  const all = [...others.filter((text) => !text.startsWith(`## ${group}\n`)), own];
  all.sort((a, b) => (a < b ? -1 : 1));
  writeFileSync(file, [HEAD, ...all].join('\n'));
}

const groupsOf = (text: string): readonly string[] =>
  text
    .split(/^(?=## )/mu)
    .filter((part) => part.startsWith('## '))
    .map((part) => `${part.trimEnd()}\n`);
