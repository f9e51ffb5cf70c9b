import { misshapen, polarityOfThreading } from '../mat/threading.ts';
import type { BrokenRule } from '../design/design-error.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import type { Design } from '../design/design.ts';
import { needsEvenSides } from '../mat/winding.ts';

/** What each winding needs of the mat, and the shape of a custom one. */
export function windingRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const { mat, winding } = design;
  const broken: BrokenRule[] = [];
  const cores = mat.rows * mat.columns;
  if (needsEvenSides(winding.kind))
    for (const side of ['rows', 'columns'] as const)
      if (mat[side] % 2 !== 0)
        broken.push({
          path: ['mat', side],
          sentence: `mat.${side} must be even for the winding "${winding.kind}", but is ${mat[side]}; choose ${mat[side] + 1}, or the winding "shared-one-run"`,
          limit: 'even',
        });
  if (mat.otherOnes >= mat.mats)
    broken.push({
      path: ['mat', 'otherOnes'],
      sentence: `mat.otherOnes must be under the number of mats (0 to ${mat.mats - 1}), but is ${mat.otherOnes}; the selected mat is not counted`,
      limit: `0 to ${mat.mats - 1}`,
    });
  const parts = winding.segments;
  if (parts > 1 && winding.kind === 'shared-two-halves')
    broken.push({
      path: ['winding', 'segments'],
      sentence: `winding.segments must be 1 for the winding "shared-two-halves", but is ${parts}; choose another winding to cut the wire`,
      limit: '1',
    });
  else if (parts > 1) {
    const longer = winding.kind === 'shared-one-run' ? Math.max(mat.rows, mat.columns) : cores;
    if (longer % parts !== 0)
      broken.push({
        path: ['winding', 'segments'],
        sentence: `winding.segments must divide ${longer} (${winding.kind === 'shared-one-run' ? 'the longer side of the mat' : 'the cores of the mat'}), but is ${parts}; choose another number`,
        limit: `a divisor of ${longer}`,
      });
  }
  return winding.kind === 'custom'
    ? [...broken, ...threadingRules(design, file), ...customRules(design, file)]
    : [...broken, ...notCustomRules(file)];
}

function notCustomRules(file: ReadDesignFile): readonly BrokenRule[] {
  return (['polarity', 'threading', 'order', 'shared'] as const)
    .filter((name) => file.winding[name] !== undefined)
    .map((name) => ({
      path: ['winding', name],
      sentence: `winding.${name} is read only when winding.kind is "custom", but that is "${file.winding.kind}"; leave it out or choose "custom"`,
    }));
}

/** A threading fits the mat, stands alone, and lets X and Y select every core. */
function threadingRules({ mat }: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const { threading, polarity } = file.winding;
  if (threading === undefined) return [];
  const refuse = (name: string, sentence: string): readonly BrokenRule[] => [
    { path: ['winding', ...name.split('/')], sentence },
  ];
  if (polarity !== undefined)
    return refuse(
      'threading',
      'winding.threading must stand alone, but winding.polarity is given too; leave one out',
    );
  const sides = { x: mat.rows, y: mat.columns };
  for (const line of ['x', 'y'] as const)
    if (threading[line].length !== sides[line])
      return refuse(
        `threading/${line}`,
        `winding.threading.${line} must have ${sides[line]} entries, one for each ${line.toUpperCase()} line, but has ${threading[line].length}; complete the list`,
      );
  const odd = misshapen(threading);
  if (odd !== undefined)
    return refuse(
      `threading/${odd}`,
      `winding.threading.${odd} must have ${mat.rows} texts of ${mat.columns} letters, but has another shape; give one letter for each core`,
    );
  const { opposed } = polarityOfThreading(threading);
  if (opposed === undefined) return [];
  const { row, column } = opposed;
  return refuse(
    'threading',
    `winding.threading must let X and Y drive every core the same way, but at row ${row}, column ${column} they oppose each other; turn that core over, or the row or the column round`,
  );
}

function customRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const { mat, winding } = design;
  const { polarity, order } = winding;
  const cores = mat.rows * mat.columns;
  const broken: BrokenRule[] = [];
  const add = (name: string, must: string, but: string): void => {
    broken.push({
      path: ['winding', name],
      sentence: `winding.${name} must ${must}, but ${but}`,
      limit: must,
    });
  };
  const shape = `be ${mat.rows} rows of ${mat.columns} entries, each 1 or -1`;
  const badRow = polarity?.findIndex((row) => row.length !== mat.columns);
  if (polarity === undefined && file.winding.threading === undefined)
    add('polarity', shape, 'is missing; give the winding or choose another kind');
  else if (polarity !== undefined && polarity.length !== mat.rows)
    add('polarity', shape, `has ${polarity.length} rows; give one row for each X line`);
  else if (polarity !== undefined && badRow !== undefined && badRow >= 0)
    add('polarity', shape, `row ${badRow} has ${polarity[badRow].length}; give one entry for each Y line`);
  const visit = `name each of the ${cores} cores once, as row * columns + column`;
  if (order === undefined)
    add('order', visit, 'is missing; give the order in which the wire visits the cores');
  else if (order.length !== cores) add('order', visit, `names ${order.length}; complete the list`);
  else {
    const seen = new Set<number>();
    const wrong = order.find((core) => core >= cores || seen.size === seen.add(core).size);
    if (wrong !== undefined)
      add(
        'order',
        visit,
        wrong >= cores
          ? `names core ${wrong}, and the last is ${cores - 1}; correct it`
          : `names core ${wrong} twice; correct it`,
      );
  }
  return broken;
}

/** Addresses lie inside the mat; the observed cycle is that of the selected core; no core is an exception twice. */
export function addressRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const { mat, selected, programme, exceptions } = design;
  const broken: BrokenRule[] = [];
  const inside = (
    place: readonly (string | number)[],
    name: string,
    core: { row: number; column: number },
  ): void => {
    if (core.row >= mat.rows) outside([...place, 'row'], `${name}.row`, core.row, mat.rows, 'rows');
    if (core.column >= mat.columns)
      outside([...place, 'column'], `${name}.column`, core.column, mat.columns, 'columns');
  };
  const outside = (
    path: readonly (string | number)[],
    name: string,
    value: number,
    side: number,
    word: string,
  ): void => {
    broken.push({
      path,
      sentence: `${name} must be under the ${side} ${word} of the mat (0 to ${side - 1}), but is ${value}; choose a core inside the mat`,
      limit: `0 to ${side - 1}`,
    });
  };
  inside(['selected'], 'selected', selected);
  // Without a programme the one cycle is that of the selected core, told of above.
  (file.programme ?? []).forEach((cycle, i) => inside(['programme', i], `programme[${i}]`, cycle));
  const last = programme[programme.length - 1];
  if (last.row !== selected.row || last.column !== selected.column)
    broken.push({
      path: ['programme', programme.length - 1],
      sentence: `programme[${programme.length - 1}] must address the selected core (row ${selected.row}, column ${selected.column}), because the last cycle is observed, but addresses row ${last.row}, column ${last.column}; add a cycle or change selected`,
    });
  const seen = new Set<number>();
  exceptions.forEach((core, i) => {
    inside(['exceptions', i], `exceptions[${i}]`, core);
    const index = core.row * mat.columns + core.column;
    if (seen.has(index))
      broken.push({
        path: ['exceptions', i],
        sentence: `exceptions[${i}] must be another core than those before it, but row ${core.row}, column ${core.column} is listed twice; merge the two`,
      });
    seen.add(index);
  });
  return broken;
}

/** A custom stored pattern has one text for each row, one letter for each column. */
export function storedRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const { mat, stored } = design;
  const path = ['stored', 'rows'];
  const must = `stored.rows must be ${mat.rows} texts of ${mat.columns} letters 0 or 1`;
  if (stored.kind !== 'custom') {
    if (file.stored.rows === undefined) return [];
    return [
      {
        path,
        sentence: `stored.rows is read only when stored.kind is "custom", but that is "${stored.kind}"; leave it out or choose "custom"`,
      },
    ];
  }
  const rows = stored.rows;
  if (rows === undefined)
    return [{ path, sentence: `${must}, but is missing; give the bits or choose another pattern` }];
  if (rows.length !== mat.rows)
    return [{ path, sentence: `${must}, but has ${rows.length}; give one text for each row` }];
  const bad = rows.findIndex((row) => row.length !== mat.columns);
  if (bad < 0) return [];
  return [
    {
      path: [...path, bad],
      sentence: `${must}, but row ${bad} has ${rows[bad].length}; give one letter for each column`,
    },
  ];
}
