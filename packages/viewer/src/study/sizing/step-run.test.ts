import { InputError } from '@barwright/geometry';
import { describe, expect, test, vi } from 'vitest';
import type { Answered } from '../../worker/answering.ts';
import { type Begun, createStepRun, type Step, shownOf } from './step-run.ts';

/** A worker by hand: runs of three steps, one at a time, each answered when it is told to. */
function worker() {
  let going: { id: number; done: number } | null = null;
  let lastId = 0;
  const waiting: (() => void)[] = [];
  const begun: string[] = [];
  const answer = <T>(make: () => T): Promise<Answered<T>> =>
    new Promise((resolve) => waiting.push(() => resolve({ ok: true, value: make() })));
  return {
    begun,
    begin: (name: string) => (): Promise<Answered<Begun>> =>
      answer(() => {
        begun.push(name);
        going = { id: ++lastId, done: 0 };
        return { id: going.id, total: 3 };
      }),
    next: (id: number): Promise<Answered<Step<string> | null>> =>
      answer(() => {
        if (going?.id !== id) return null;
        going.done++;
        return { done: going.done, isEnd: going.done === 3, parts: [`${begun.at(-1)} ${going.done}`] };
      }),
    forget: (): void => {
      going = null;
    },
    /** Answers what is asked, one after the other. */
    async answer(times: number): Promise<void> {
      for (let i = 0; i < times; i++) {
        await vi.waitFor(() => expect(waiting.length).toBeGreaterThan(0));
        waiting.shift()!();
        await new Promise((resolve) => setTimeout(resolve, 0));
      }
    },
    waiting,
  };
}

describe('a run asked for step by step', () => {
  test('parts come in one by one to the end', async () => {
    const by = worker();
    const run = createStepRun<Begun, string>(by.next);
    run.follow('a', by.begin('a'));
    await by.answer(2);
    expect(run.store.getState()).toMatchObject({ state: 'working', done: 1, parts: ['a 1'] });
    await by.answer(2);
    expect(run.store.getState()).toMatchObject({ state: 'done', done: 3, parts: ['a 1', 'a 2', 'a 3'] });
    run.follow('a', by.begin('again'));
    expect(by.waiting).toEqual([]);
    expect(by.begun).toEqual(['a']);
  });

  test('stopped, the answer on its way is kept and no other asked for; it goes on where the worker is', async () => {
    const by = worker();
    const run = createStepRun<Begun, string>(by.next);
    run.follow('a', by.begin('a'));
    await by.answer(2);
    run.stop();
    await by.answer(1);
    expect(run.store.getState()).toMatchObject({ state: 'stopped', parts: ['a 1', 'a 2'] });
    expect(by.waiting).toEqual([]);
    run.goOn();
    await by.answer(1);
    expect(run.store.getState()).toMatchObject({ state: 'done', parts: ['a 1', 'a 2', 'a 3'] });
  });

  test('stopped and gone on with before the answer is there, every part comes once', async () => {
    const by = worker();
    const run = createStepRun<Begun, string>(by.next);
    run.follow('a', by.begin('a'));
    run.stop();
    run.goOn();
    await by.answer(2);
    run.stop();
    run.goOn();
    await by.answer(2);
    expect(by.begun).toEqual(['a']);
    expect(run.store.getState()).toMatchObject({ state: 'done', parts: ['a 1', 'a 2', 'a 3'] });
  });

  test('another question takes its place; what was there is kept as older until the first new part', async () => {
    const by = worker();
    const run = createStepRun<Begun, string>(by.next);
    run.follow('a', by.begin('a'));
    await by.answer(4);
    run.follow('b', by.begin('b'));
    run.follow('c', by.begin('c'));
    expect(shownOf(run.store.getState())).toMatchObject({ isOlder: true, parts: ['a 1', 'a 2', 'a 3'] });
    await by.answer(2);
    expect(by.begun).toEqual(['a', 'c']);
    expect(shownOf(run.store.getState())).toMatchObject({ isOlder: false, parts: ['c 1'] });
  });

  test('where the worker has lost it, it begins again', async () => {
    const by = worker();
    const run = createStepRun<Begun, string>(by.next);
    run.follow('a', by.begin('a'));
    await by.answer(2);
    by.forget();
    await by.answer(5);
    expect(by.begun).toEqual(['a', 'a']);
    expect(run.store.getState()).toMatchObject({ state: 'done', parts: ['a 1', 'a 2', 'a 3'] });
  });

  test('a refusal is kept in its own words', async () => {
    const refusal = new InputError({ code: 'missing', expected: 'a rider', remedy: 'Open one.' }).details;
    const run = createStepRun<Begun, string>(() => Promise.reject(new Error('never asked')));
    run.follow('a', () => Promise.resolve({ ok: false, error: refusal }));
    await vi.waitFor(() => expect(run.store.getState().state).toBe('refused'));
    expect(run.store.getState().refusal).toEqual(refusal);
  });
});
