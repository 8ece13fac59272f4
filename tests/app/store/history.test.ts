// Undo across a reload, and a page that is left a moment after an edit.
import { describe, expect, test } from 'vitest'
import { memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'
import { fickle, memoryTexts, named, openRecord, settle, storagePage } from '../../kit/storagePage.ts'

async function edited(rows: Map<string, unknown>, names: readonly string[]) {
  const p = storagePage(memoryKeyValue(rows))
  await p.storage.start(gannetHead)
  for (const name of names) {
    p.design.edit(`To ${name}`, named(name))
    await p.storage.flush()
  }
  return p
}
const again = async (rows: Map<string, unknown>) => {
  const p = storagePage(memoryKeyValue(structuredClone(rows)))
  await p.storage.start(iceRink)
  return p
}

describe('a reload', () => {
  test('undo and redo go on where they were, with their words', async () => {
    const rows = new Map<string, unknown>()
    const p = await edited(rows, ['a', 'b', 'c'])
    p.design.undo()
    await p.storage.flush()
    const q = await again(rows)
    expect(q.design.store.getState()).toEqual({ lamp: { ...gannetHead(), name: 'b' }, label: 'To b' })
    q.design.redo()
    expect(q.design.store.getState()).toEqual({ lamp: { ...gannetHead(), name: 'c' }, label: 'To c' })
    expect(q.design.canRedo()).toBe(false)
    for (const name of ['b', 'a', 'Gannet Head']) {
      q.design.undo()
      expect(q.design.lamp()).toEqual({ ...gannetHead(), name })
    }
    expect(q.design.canUndo()).toBe(false)
    expect(q.design.store.getState().label).toBe('Open')
  })

  test('the last fifty steps come back', async () => {
    const rows = new Map<string, unknown>()
    const p = await edited(rows, [])
    for (let i = 0; i < 60; i++) p.design.edit(`Edit ${i}`, named(`n${i}`))
    await p.storage.flush()
    const q = await again(rows)
    const { past } = q.design.steps()
    expect(past.map((s) => s.label)).toEqual(Array.from({ length: 50 }, (_, i) => `Edit ${i + 9}`))
    expect(past[0]!.lamp.name).toBe('n9')
  })

  test('another lamp that is opened has its own', async () => {
    const rows = new Map<string, unknown>()
    const p = await edited(rows, ['a', 'b'])
    const first = p.state().openId
    await p.storage.add(stileLamp(), 'Example')
    expect(p.design.canUndo()).toBe(false)
    const q = await again(rows)
    expect(q.design.canUndo()).toBe(false)
    await q.storage.switchTo(first)
    q.design.undo()
    expect(q.design.lamp().name).toBe('a')
  })

  test('a history that is damaged, or of another state, is none', async () => {
    for (const damage of [
      () => 'nonsense',
      (h: object) => ({ ...h, of: 'another' }),
      (h: object) => ({ ...h, done: [{ label: 'x' }] }),
    ]) {
      const rows = new Map<string, unknown>()
      await edited(rows, ['a'])
      const [key, history] = [...rows].find(([k]) => k.startsWith('history:'))!
      rows.set(key, damage(history as object))
      const q = await again(rows)
      expect(q.design.lamp().name).toBe('a')
      expect(q.design.canUndo()).toBe(false)
    }
  })

  test('it ends at a state that is no lamp', async () => {
    const rows = new Map<string, unknown>()
    await edited(rows, ['a', 'b'])
    const [, history] = [...rows].find(([k]) => k.startsWith('history:'))!
    const { done } = history as { done: { changes: { from: unknown }[] }[] }
    done[0]!.changes[0]!.from = ''
    const q = await again(rows)
    q.design.undo()
    expect(q.design.lamp().name).toBe('a')
    expect(q.design.canUndo()).toBe(false)
  })

  test('a lamp that is deleted takes its history along', async () => {
    const rows = new Map<string, unknown>()
    const p = await edited(rows, ['a'])
    await p.storage.remove(p.state().openId, stileLamp)
    expect([...rows.keys()].filter((k) => k.startsWith('history:'))).toEqual([])
  })
})

describe('a page that is left at once after an edit, while IndexedDB has had no time', () => {
  async function leftBehind() {
    const texts = memoryTexts()
    const { kv, store, rows } = fickle()
    const p = storagePage(store, texts)
    await p.storage.start(gannetHead)
    p.design.edit('To stored', named('stored'))
    await p.storage.flush()
    kv.now = 'silent'
    p.design.edit('To last', named('last'))
    return { p, rows, texts, kv }
  }

  test('the next start has the lamp and its undo; then nothing is left lying', async () => {
    const { p, rows, texts } = await leftBehind()
    p.storage.leave()
    expect(texts.length).toBe(1)
    const q = storagePage(memoryKeyValue(rows), texts)
    await q.storage.start(iceRink)
    expect(q.design.lamp().name).toBe('last')
    expect(openRecord(q).states.map((s) => s.label)).toEqual(['To last', 'To stored', 'New'])
    q.design.undo()
    expect(q.design.lamp().name).toBe('stored')
    expect(texts.length).toBe(0)
    const r = storagePage(memoryKeyValue(rows), texts)
    await r.storage.start(iceRink)
    expect(r.design.lamp().name).toBe('last')
  })

  test('the same when the edit was on its way already', async () => {
    const { p, rows, texts } = await leftBehind()
    void p.storage.flush()
    await settle()
    p.storage.leave()
    const q = storagePage(memoryKeyValue(rows), texts)
    await q.storage.start(iceRink)
    expect(q.design.lamp().name).toBe('last')
    expect(q.state().lamps).toHaveLength(1)
  })

  test('a write that is done after all is not taken for another tab’s', async () => {
    const texts = memoryTexts()
    const rows = new Map<string, unknown>()
    const p = storagePage(memoryKeyValue(rows), texts)
    await p.storage.start(gannetHead)
    p.design.edit('To last', named('last'))
    const left = memoryTexts()
    p.storage.leave()
    for (let i = 0; i < texts.length; i++) left.setItem(texts.key(i)!, texts.getItem(texts.key(i)!)!)
    await p.storage.flush()
    expect(texts.length).toBe(0) // it has cleared up behind itself
    const q = storagePage(memoryKeyValue(rows), left)
    await q.storage.start(iceRink)
    expect(q.state().lamps).toHaveLength(1)
    expect(openRecord(q).states).toHaveLength(2)
    expect(q.notice()).toBeNull()
  })

  test('nor one that was done while a further edit was made', async () => {
    const { p, rows, texts, kv } = await leftBehind()
    kv.now = 'late'
    void p.storage.flush()
    await settle()
    p.design.edit('To very last', named('very last'))
    p.storage.leave()
    const q = storagePage(memoryKeyValue(rows), texts)
    await q.storage.start(iceRink)
    expect(q.state().lamps.map((l) => l.name)).toEqual(['very last'])
    q.design.undo()
    expect(q.design.lamp().name).toBe('last')
  })

  test('another tab has changed the lamp meanwhile: both are kept', async () => {
    const { p, rows, texts } = await leftBehind()
    p.storage.leave()
    const other = storagePage(memoryKeyValue(rows))
    await other.storage.start(iceRink)
    other.design.edit('To other', named('other'))
    await other.storage.flush()
    const q = storagePage(memoryKeyValue(rows), texts)
    await q.storage.start(iceRink)
    expect(
      q
        .state()
        .lamps.map((l) => l.name)
        .sort(),
    ).toEqual(['last, copy', 'other'])
    expect(q.design.lamp().name).toBe('last, copy')
    expect(q.notice()).toContain('Both are kept')
  })

  test('a drag that has not ended, and a page with nothing unstored, leave nothing', async () => {
    const texts = memoryTexts()
    const p = storagePage(memoryKeyValue(), texts)
    await p.storage.start(gannetHead)
    p.storage.leave()
    expect(texts.length).toBe(0)
    p.design.beginDrag('Drag').preview(named('half way'))
    p.storage.leave()
    expect(texts.length).toBe(0)
  })

  test('what stands there and is no lamp is cleared away', async () => {
    const texts = memoryTexts(new Map([['lampwright-last:x:y', '{"id":"x","label":"","at":1,"lamp":{}}']]))
    const p = storagePage(memoryKeyValue(), texts)
    await p.storage.start(gannetHead)
    expect(p.state().lamps).toHaveLength(1)
    expect(texts.length).toBe(0)
  })
})
