import { designJsonSchema } from './schema/design-schema.ts';

interface SchemaNode {
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly items?: SchemaNode;
}

/** Names of the fields that a file, a design unless told otherwise, knows at a path. */
export function knownNames(
  path: readonly PropertyKey[],
  schema: SchemaNode = designJsonSchema(),
): readonly string[] {
  let node: SchemaNode | undefined = schema;
  for (const part of path) node = typeof part === 'number' ? node?.items : node?.properties?.[String(part)];
  return Object.keys(node?.properties ?? {});
}

/** The known name that a misspelt one most likely meant, or undefined when none is near. */
export function nearestName(name: string, known: readonly string[]): string | undefined {
  if (name.length > 40) return undefined;
  const wanted = name.toLowerCase();
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const other = candidate.toLowerCase();
    const contained = wanted.length > 2 && (other.includes(wanted) || wanted.includes(other));
    const distance = contained ? 1 : editDistance(wanted, other);
    if (distance < least) {
      least = distance;
      best = candidate;
    }
  }
  return least <= Math.max(1, Math.floor(name.length / 3)) ? best : undefined;
}

/** Letters to insert, delete, replace or swap with a neighbour to get from one word to another. */
function editDistance(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) => [i, ...Array<number>(b.length).fill(0)]);
  for (let j = 0; j <= b.length; j++) rows[0][j] = j;
  for (let i = 1; i <= a.length; i++)
    for (let j = 1; j <= b.length; j++) {
      const replace = rows[i - 1][j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      let cost = Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, replace);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, rows[i - 2][j - 2] + 1);
      rows[i][j] = cost;
    }
  return rows[a.length][b.length];
}
