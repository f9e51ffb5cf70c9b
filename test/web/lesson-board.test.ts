import { describe, expect, it } from 'vitest';
import { board } from '../../web/lessons/course/bench.ts';
import { withValueAt } from '../../web/model/pointer.ts';
import { createAtoms } from '../../web/state/atoms.ts';
import { derive } from '../../web/state/derived.ts';
import { createGestures } from '../../web/state/gestures.ts';
import { mayChange, MOVABLES } from '../../web/state/lesson-board.ts';

const about = { title: 'A step', question: 'Where?' };

describe('a lesson’s board on the stage', () => {
  const faster = withValueAt(board, '/drive/x/rise', '20 ns');
  const moved = withValueAt(board, '/strobe/time', '140 ns');

  it('may be changed where the lesson leaves it free, and nowhere else', () => {
    expect(mayChange(about, board, faster)).toBe(true);
    expect(mayChange({ ...about, movable: [] }, board, moved)).toBe(false);
    expect(mayChange({ ...about, movable: ['strobe'] }, board, moved)).toBe(true);
    expect(mayChange({ ...about, movable: ['strobe'] }, board, faster)).toBe(false);
    expect(mayChange({ ...about, movable: ['drivers'] }, board, faster)).toBe(true);
    expect(mayChange({ ...about, movable: MOVABLES }, board, withValueAt(board, '/name', 'mine'))).toBe(
      false,
    );
  });

  it('refuses a locked gesture with a sentence, and gives the reader’s own design back on leaving, undo included', () => {
    const own = { ...board, name: 'My own' };
    const atoms = createAtoms(own);
    const act = createGestures(atoms, derive(atoms));
    act.go({ name: 'learn', part: 'l1-x', id: '' });
    act.openBoard(board, { ...about, movable: ['strobe'] });
    expect(atoms.place.value.name).toBe('plan');
    act.set(['/drive/x/rise'], '20 ns');
    expect(atoms.history.value.present).toEqual(board);
    expect(atoms.notice.value).toContain('locked');
    act.set(['/strobe/time'], '140 ns');
    expect(atoms.history.value.present).toEqual(moved);
    act.backToLesson();
    expect(atoms.history.value.present).toEqual(own);
    expect(atoms.place.value).toEqual({ name: 'learn', part: 'l1-x', id: '' });
    expect(atoms.lesson.value).toBeUndefined();

    act.openBoard(board, { ...about, movable: [] });
    act.undo();
    expect(atoms.history.value.present).toEqual(own);
    expect(atoms.lesson.value).toBeUndefined();
    act.set(['/strobe/time'], '140 ns');
    expect(atoms.history.value.present).toEqual({ ...own, strobe: { time: '140 ns' } });
  });

  it('is freed by an answer, from step to step leaves one own design behind, and undo never uncovers it', () => {
    const own = { ...board, name: 'My own' };
    const atoms = createAtoms(own);
    const act = createGestures(atoms, derive(atoms));
    act.set(['/drive/x/rise'], '25 ns');
    const before = atoms.history.value;
    act.openBoard(board, { ...about, covered: ['margin'], movable: [], step: 'late' });
    expect(atoms.place.value).toEqual({ name: 'plan', part: 'lesson', id: 'late' });
    expect(atoms.history.value.present).toEqual({ ...board, strobe: { time: '20 ns' } });
    act.undo();
    expect(atoms.lesson.value?.step).toBe('late');
    act.freeBoard();
    expect(atoms.lesson.value).toMatchObject({ covered: undefined, movable: undefined });
    // The strobe had been put aside, so that it told nothing.
    expect(atoms.history.value.present).toEqual({ ...board, strobe: { time: 'best' } });
    act.set(['/drive/x/rise'], '20 ns');
    expect(atoms.notice.value).toBeUndefined();
    act.openBoard(faster, { ...about, step: 'zero' });
    act.leaveLesson();
    expect(atoms.history.value).toEqual(before);
    expect(atoms.lesson.value).toBeUndefined();
  });
});
