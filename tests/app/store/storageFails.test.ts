// What a browser's storage can do to a lamp: never answer, answer late, lose half of it, or be written by another tab. No work is lost in silence.
import { describe, expect, test } from 'vitest'
import { memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'
import { fickle, LIMIT_MS, named, openRecord, RETRY_MS, settle, storagePage } from '../../kit/storagePage.ts'

describe('a store that never answers', () => {
  async function keptBefore() {
    const rows = new Map<string, unknown>()
    const before = storagePage(memoryKeyValue(rows))
    await before.storage.start(gannetHead)
    before.design.edit('Name', named('Mine'))
    await before.storage.flush()
    return rows
  }

  test('does not stop the start, and nothing is said to be kept', async () => {
    const { kv, store } = fickle()
    kv.now = 'silent'
    const p = storagePage(store)
    let started = false
    const start = p.storage.start(gannetHead).then(() => {
      started = true
    })
    await settle()
    expect({ started, ready: p.state().ready }).toEqual({ started: false, ready: false })
    await p.pass(LIMIT_MS)
    await start
    expect(p.state().ready).toBe(true)
    expect(p.state().error).toMatch(/^This browser’s storage does not answer: nothing is saved automatically/)
    expect(p.design.lamp().name).toBe('Gannet Head')
  })

  test('answers again: the builder’s lamp opens in place of an untouched example, which has never been stored', async () => {
    const rows = await keptBefore()
    const count = rows.size
    const { kv, store } = fickle(rows)
    kv.now = 'silent'
    const p = storagePage(store)
    const start = p.storage.start(stileLamp)
    await p.pass(LIMIT_MS)
    await start
    expect(p.design.lamp().name).toBe('Stile lamp')
    await p.pass(RETRY_MS)
    await p.pass(LIMIT_MS) // still silent
    expect(rows.size).toBe(count)
    kv.now = 'works'
    await p.pass(RETRY_MS)
    expect(p.design.lamp().name).toBe('Mine')
    expect(p.state().lamps.map((l) => l.name)).toEqual(['Mine'])
    expect(p.state().error).toBeNull()
    expect(p.notice()).toContain('your lamp is open as you left it')
  })

  test('answers again after something was made: both are kept, and it says where', async () => {
    const rows = await keptBefore()
    const { kv, store } = fickle(rows)
    kv.now = 'silent'
    const p = storagePage(store)
    const start = p.storage.start(stileLamp)
    await p.pass(LIMIT_MS)
    await start
    p.design.edit('Name', named('Made meanwhile'))
    await p.storage.flush()
    kv.now = 'works'
    await p.pass(RETRY_MS)
    expect(p.design.lamp().name).toBe('Made meanwhile')
    expect(p.notice()).toContain('your earlier lamps are back, under Lamps')
    const second = storagePage(memoryKeyValue(rows))
    await second.storage.start(iceRink)
    expect(second.design.lamp().name).toBe('Made meanwhile')
    expect(
      second
        .state()
        .lamps.map((l) => l.name)
        .sort(),
    ).toEqual(['Made meanwhile', 'Mine'])
  })

  test('what was begun before the lamps of earlier visits were there is not replaced by them', async () => {
    const rows = await keptBefore()
    const p = storagePage(memoryKeyValue(rows))
    const start = p.storage.start(gannetHead)
    p.design.edit('Name', named('Begun'))
    await start
    expect(p.design.lamp().name).toBe('Begun')
    expect(p.design.canUndo()).toBe(true)
    expect(p.notice()).toContain('your earlier lamps are under Lamps')
    expect(p.state().lamps.map((l) => l.name)).toEqual(['Mine', 'Begun'])
  })
})

test('a write that was given up, but was done after all, is not taken for another tab’s', async () => {
  const { kv, store, rows } = fickle()
  const p = storagePage(store)
  await p.storage.start(gannetHead)
  kv.now = 'late'
  p.design.edit('Name', named('Late'))
  const flushed = p.storage.flush()
  await p.pass(LIMIT_MS)
  await flushed
  expect(p.state().error).toMatch(/does not answer/)
  kv.now = 'works'
  p.design.edit('Name', named('Later'))
  await p.storage.flush()
  await p.pass(RETRY_MS)
  expect([p.state().error, p.notice(), p.state().lamps.length]).toEqual([null, null, 1])
  const second = storagePage(memoryKeyValue(rows))
  await second.storage.start(iceRink)
  expect(openRecord(second).states.map((s) => s.label)).toEqual(['Name', 'Name', 'New'])
})

describe('two tabs with one lamp', () => {
  test('neither overwrites the other: the later one becomes a lamp of its own, and says so', async () => {
    const rows = new Map<string, unknown>()
    const first = storagePage(memoryKeyValue(rows))
    await first.storage.start(gannetHead)
    const second = storagePage(memoryKeyValue(rows))
    await second.storage.start(gannetHead)
    first.design.edit('Distance', named('First'))
    second.design.edit('Distance', named('Second'))
    await first.storage.flush()
    await second.storage.flush()
    expect(first.notice()).toBeNull()
    expect(second.notice()).toBe(
      '“First” was also changed in another tab. Both are kept: what you made here is now “Second, copy”.',
    )
    expect(second.design.lamp().name).toBe('Second, copy')
    second.design.edit('More', named('Second, more'))
    await second.storage.flush()
    first.design.edit('More', named('First, more'))
    await first.storage.flush()
    expect([first.state().lamps.length, first.notice()]).toEqual([1, null])
    const third = storagePage(memoryKeyValue(rows))
    await third.storage.start(iceRink)
    expect(third.state().lamps.map((l) => l.name)).toEqual(['First, more', 'Second, more'])
    for (const { id, name } of third.state().lamps) {
      await third.storage.switchTo(id)
      expect(third.design.lamp().name).toBe(name)
    }
  })

  test('a lamp that another tab has changed is opened as it is now', async () => {
    const rows = new Map<string, unknown>()
    const first = storagePage(memoryKeyValue(rows))
    await first.storage.start(gannetHead)
    const { openId } = first.state()
    await first.storage.add(stileLamp(), 'Example')
    const second = storagePage(memoryKeyValue(rows))
    await second.storage.start(gannetHead)
    await second.storage.switchTo(openId)
    second.design.edit('Name', named('Changed there'))
    await second.storage.flush()
    await first.storage.switchTo(openId)
    expect(first.design.lamp().name).toBe('Changed there')
    first.design.edit('Name', named('Changed here'))
    await first.storage.flush()
    expect([first.state().lamps.length, first.notice()]).toEqual([2, null])
  })
})

describe('a half-written state', () => {
  async function twoLamps() {
    const rows = new Map<string, unknown>()
    const p = storagePage(memoryKeyValue(rows))
    await p.storage.start(gannetHead)
    await p.storage.add({ ...stileLamp(), name: 'Mine' }, 'Example')
    const lamps = p.state().lamps
    return { rows, other: lamps[0]!, mine: lamps[1]! }
  }
  const opened = async (rows: Map<string, unknown>) => {
    const p = storagePage(memoryKeyValue(rows))
    await p.storage.start(iceRink)
    return p
  }

  test('the lamp open last can’t be read: another is open, and it says where the first is', async () => {
    const { rows, mine } = await twoLamps()
    rows.set(mine.states[0]!.key, { format: 'lamp' })
    const p = await opened(rows)
    expect(p.design.lamp().name).toBe('Gannet Head')
    expect(p.notice()).toBe('“Mine” could not be read back; it stays under Lamps. “Gannet Head” is open in its place.')
    expect(p.state().lamps.map((l) => l.name)).toEqual(['Gannet Head', 'Mine'])
  })

  test('none can be read: the example is open, and says that it is one', async () => {
    const { rows, mine, other } = await twoLamps()
    for (const { states } of [mine, other]) rows.delete(states[0]!.key)
    const p = await opened(rows)
    expect(p.notice()).toBe(
      'None of the 2 lamps kept here could be read back; they stay under Lamps. The example “Ice rink” is open instead.',
    )
    expect(p.state().lamps).toHaveLength(3)
  })

  test('a record that is damaged is made anew from the states', async () => {
    const { rows, mine } = await twoLamps()
    rows.set(`lamp:${mine.id}`, { id: mine.id })
    const p = await opened(rows)
    expect(p.design.lamp().name).toBe('Mine')
    expect(p.notice()).toBe('The list of “Mine” was damaged. Its states have been found again.')
    const again = await opened(rows)
    expect([again.design.lamp().name, again.notice()]).toEqual(['Mine', null])
  })
})
