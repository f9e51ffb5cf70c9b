import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

/** The public library is small enough to read, and each of its names says what it means where it is defined. */
const INDEX = join(import.meta.dirname, '../../engine/index.ts');

const parse = (file: string): ts.SourceFile =>
  ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);

const exported = parse(INDEX).statements.filter(ts.isExportDeclaration);
const names = exported.flatMap(({ exportClause, moduleSpecifier }) =>
  exportClause === undefined || !ts.isNamedExports(exportClause)
    ? []
    : exportClause.elements.map(({ name }) => ({
        name: name.text,
        file: join(dirname(INDEX), (moduleSpecifier as ts.StringLiteral).text),
      })),
);

/** What the comment over a definition says; '' where there is none, or no definition. */
function commentOf(name: string, file: string): string {
  const definition = parse(file).statements.find((statement) =>
    ts.isVariableStatement(statement)
      ? statement.declarationList.declarations.some((one) => one.name.getText() === name)
      : (statement as { name?: ts.Identifier }).name?.text === name,
  );
  const comments = definition === undefined ? [] : ts.getJSDocCommentsAndTags(definition);
  return comments.map((comment) => ts.getTextOfJSDocComment(comment.comment) ?? '').join(' ');
}

describe('the index of the package', () => {
  it('re-exports names one by one, and nothing else', () => {
    expect(parse(INDEX).statements.length).toBe(exported.length);
    expect(exported.filter(({ exportClause }) => !exportClause || !ts.isNamedExports(exportClause))).toEqual(
      [],
    );
  });

  it('holds fifty names at most', () => {
    expect(names.length).toBeGreaterThan(30);
    expect(names.length).toBeLessThanOrEqual(50);
  });

  it('takes each from the file that defines it, where a comment says what it means', () => {
    expect(commentOf('nobody', INDEX)).toBe('');
    const unsaid = names.filter(({ name, file }) => commentOf(name, file).length < 60);
    expect(unsaid.map(({ name }) => name)).toEqual([]);
  });
});
