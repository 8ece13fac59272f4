import { describe, expect, test } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import { browserKeyValue, type KeyValue, memoryKeyValue, type Timer } from '../../../src/app/store/keyValue.ts'
import { createStorage, MAX_STATES } from '../../../src/app/store/storage.ts'
import { copyName } from '../../../src/app/store/storedLamps.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'

function page(kv: KeyValue) {
  let clock = 1_000
  const design = createDesign(gannetHead())
  const waits: { ms: number; run(): void }[] = []
  const after: Timer = (ms, run) => {
    const wait = { ms, run }
    waits.push(wait)
    return () => void (waits.includes(wait) && waits.splice(waits.indexOf(wait), 1))
  }
  // The tests flush by themselves: no test waits for the timer.
  const storage = createStorage(kv, design, { now: () => clock++, waitMs: 1e9, after })
  /** Lets the promises settle, then runs out the waits of so many ms. */
  const pass = async (ms: number) => {
    await settle()
    for (const wait of waits.filter((w) => w.ms === ms)) {
      waits.splice(waits.indexOf(wait), 1)
      wait.run()
    }
    await settle()
  }
  const notice = () => storage.store.getState().notice
  return { design, storage, state: () => storage.store.getState(), pass, notice }
}
const settle = () => new Promise((next) => setImmediate(next))
const [LIMIT_MS, RETRY_MS] = [3_000, 15_000]

/** A store that can be made to refuse, or never to answer. */
function fickle(rows = new Map<string, unknown>()) {
  const inner = memoryKeyValue(rows)
  const kv = { now: 'works' as 'works' | 'refuses' | 'full' | 'silent' | 'late', asked: 0 }
  const through = async <T>(work: () => Promise<T>): Promise<T> => {
    kv.asked++
    if (kv.now === 'silent') return new Promise(() => {})
    if (kv.now === 'refuses') throw new Error('no')
    if (kv.now === 'full') throw new DOMException('full', 'QuotaExceededError')
    if (kv.now === 'late') await work()
    if (kv.now === 'late') return new Promise(() => {})
    return work()
  }
  const store: KeyValue = {
    keys: () => through(inner.keys),
    getMany: (wanted) => through(() => inner.getMany(wanted)),
    setMany: (more) => through(() => inner.setMany(structuredClone(more))),
    delMany: (gone) => through(() => inner.delMany(gone)),
    setManyIf: (key, expects, more) => through(() => inner.setManyIf(key, expects, structuredClone(more))),
  }
  return { kv, store, rows }
}
const named =
  (name: string) =>
  (lamp: Lamp): Lamp => ({ ...lamp, name })
const open = (p: ReturnType<typeof page>) => p.state().lamps.find((l) => l.id === p.state().openId)!

test('a first visit gets the first lamp; a reload gets the lamp as it was', async () => {
  const rows = new Map<string, unknown>()
  const first = page(memoryKeyValue(rows))
  await first.storage.start(gannetHead)
  expect(first.state().lamps).toHaveLength(1)
  first.design.edit('Name', named('Mine'))
  await first.storage.flush()

  const second = page(memoryKeyValue(structuredClone(rows)))
  await second.storage.start(stileLamp)
  expect(second.design.lamp().name).toBe('Mine')
  expect(second.design.canUndo()).toBe(false)
  expect(open(second).states.map((s) => s.label)).toEqual(['Name', 'New'])
})

test('the last twenty states are stored and no more', async () => {
  const rows = new Map<string, unknown>()
  const p = page(memoryKeyValue(rows))
  await p.storage.start(gannetHead)
  for (let i = 0; i < 30; i++) {
    p.design.edit(`Edit ${i}`, named(`n${i}`))
    await p.storage.flush()
  }
  expect(open(p).states).toHaveLength(MAX_STATES)
  expect(open(p).states[0]!.label).toBe('Edit 29')
  expect([...rows.keys()].filter((k) => k.startsWith('state:'))).toHaveLength(MAX_STATES)
})

test('an earlier state comes back as an edit that can be undone', async () => {
  const p = page(memoryKeyValue())
  await p.storage.start(gannetHead)
  p.design.edit('Name', named('Later'))
  await p.storage.flush()
  await p.storage.goBack(open(p).states[1]!)
  expect(p.design.lamp().name).toBe('Gannet Head')
  p.design.undo()
  expect(p.design.lamp().name).toBe('Later')
})

test('several lamps side by side: add, switch, copy, rename, delete', async () => {
  const p = page(memoryKeyValue())
  await p.storage.start(gannetHead)
  const firstId = p.state().openId
  p.design.edit('Name', named('One'))
  await p.storage.add(stileLamp(), 'Example')
  expect(p.design.lamp().name).toBe('Stile lamp')
  p.design.edit('Name', named('Stile, mine'))
  await p.storage.switchTo(firstId)
  expect(p.design.lamp().name).toBe('One') // edits just before a switch are stored
  expect(p.state().lamps[1]!.name).toBe('Stile, mine')
  await p.storage.duplicate(firstId)
  expect(p.state().lamps.map((l) => l.name)).toEqual(['One', 'Stile, mine', 'One, copy'])
  await p.storage.rename(p.state().lamps[1]!.id, 'Path lamp')
  expect(p.state().lamps[1]!.name).toBe('Path lamp')
  await p.storage.rename(p.state().openId, 'Here')
  expect(p.design.lamp().name).toBe('Here')
  await p.storage.remove(p.state().openId, gannetHead)
  expect(p.state().lamps).toHaveLength(2)
  for (const l of [...p.state().lamps]) await p.storage.remove(l.id, iceRink)
  expect(p.state().lamps.map((l) => l.name)).toEqual(['Ice rink'])
  expect(p.design.lamp().name).toBe('Ice rink')
})

test('an open drag session is not stored', async () => {
  const p = page(memoryKeyValue())
  await p.storage.start(gannetHead)
  const session = p.design.beginDrag('Drag')
  session.preview(named('half way'))
  await p.storage.flush()
  expect(open(p).states).toHaveLength(1)
  session.commit()
  await p.storage.flush()
  expect(open(p).states[0]!.label).toBe('Drag')
})

test('a browser that stores nothing: one message, and the storage works as long as the page lives', async () => {
  const { kv, store } = fickle()
  kv.now = 'refuses'
  const p = page(store)
  let messages = 0
  p.storage.store.subscribe((now, before) => {
    if (now.error !== before.error) messages++
  })
  await p.storage.start(gannetHead)
  const firstId = p.state().openId
  p.design.edit('Name', named('Kept in memory'))
  await p.storage.add(stileLamp(), 'Example')
  await p.storage.switchTo(firstId)
  expect(p.design.lamp().name).toBe('Kept in memory')
  expect(messages).toBe(1)
  expect(p.state().error).toBe(
    'This browser keeps no data for this page: nothing is kept by itself. Save the lamp to a file.',
  )
  // No call waits for the time limit again: one question, until the next try.
  expect(kv.asked).toBe(1)
})

test('without IndexedDB the page still opens', async () => {
  const p = page(browserKeyValue()) // Node has none
  await p.storage.start(gannetHead)
  expect(p.design.lamp().name).toBe('Gannet Head')
  expect(p.state().error).not.toBeNull()
})

test('a full store has a message of its own; when there is room again, what was made meanwhile is stored', async () => {
  const { kv, store, rows } = fickle()
  const p = page(store)
  await p.storage.start(gannetHead)
  expect(p.state()).toMatchObject({ error: null, ready: true })
  kv.now = 'full'
  for (const name of ['One', 'Two']) {
    p.design.edit('Name', named(name))
    await p.storage.flush()
  }
  await p.storage.add(stileLamp(), 'Example')
  expect(p.state().error).toMatch(/^This browser’s storage is full/)
  kv.now = 'refuses'
  await p.pass(RETRY_MS)
  expect(p.state().error).toMatch(/^This browser’s storage is full/) // the first error stays
  kv.now = 'works'
  await p.pass(RETRY_MS)
  expect(p.state().error).toBeNull()
  const second = page(memoryKeyValue(rows))
  await second.storage.start(iceRink)
  expect(second.design.lamp().name).toBe('Stile lamp')
  const [first] = second.state().lamps
  expect(first!.states.map((l) => l.label)).toEqual(['Name', 'Name', 'New'])
  await second.storage.switchTo(first!.id)
  expect(second.design.lamp().name).toBe('Two')
})

describe('a store that never answers', () => {
  async function keptBefore() {
    const rows = new Map<string, unknown>()
    const before = page(memoryKeyValue(rows))
    await before.storage.start(gannetHead)
    before.design.edit('Name', named('Mine'))
    await before.storage.flush()
    return rows
  }

  test('does not stop the start, and nothing is said to be kept', async () => {
    const { kv, store } = fickle()
    kv.now = 'silent'
    const p = page(store)
    let started = false
    const start = p.storage.start(gannetHead).then(() => {
      started = true
    })
    await settle()
    expect({ started, ready: p.state().ready }).toEqual({ started: false, ready: false })
    await p.pass(LIMIT_MS)
    await start
    expect(p.state().ready).toBe(true)
    expect(p.state().error).toMatch(/^This browser’s storage does not answer: nothing is kept by itself/)
    expect(p.design.lamp().name).toBe('Gannet Head')
  })

  test('answers again: the builder’s lamp opens in place of an untouched example, which has never been stored', async () => {
    const rows = await keptBefore()
    const count = rows.size
    const { kv, store } = fickle(rows)
    kv.now = 'silent'
    const p = page(store)
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
    const p = page(store)
    const start = p.storage.start(stileLamp)
    await p.pass(LIMIT_MS)
    await start
    p.design.edit('Name', named('Made meanwhile'))
    await p.storage.flush()
    kv.now = 'works'
    await p.pass(RETRY_MS)
    expect(p.design.lamp().name).toBe('Made meanwhile')
    expect(p.notice()).toContain('your earlier lamps are back, under Lamps')
    const second = page(memoryKeyValue(rows))
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
    const p = page(memoryKeyValue(rows))
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
  const p = page(store)
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
  const second = page(memoryKeyValue(rows))
  await second.storage.start(iceRink)
  expect(open(second).states.map((s) => s.label)).toEqual(['Name', 'Name', 'New'])
})

describe('two tabs with one lamp', () => {
  test('neither overwrites the other: the later one becomes a lamp of its own, and says so', async () => {
    const rows = new Map<string, unknown>()
    const first = page(memoryKeyValue(rows))
    await first.storage.start(gannetHead)
    const second = page(memoryKeyValue(rows))
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
    const third = page(memoryKeyValue(rows))
    await third.storage.start(iceRink)
    expect(third.state().lamps.map((l) => l.name)).toEqual(['First, more', 'Second, more'])
    for (const { id, name } of third.state().lamps) {
      await third.storage.switchTo(id)
      expect(third.design.lamp().name).toBe(name)
    }
  })

  test('a lamp that another tab has changed is opened as it is now', async () => {
    const rows = new Map<string, unknown>()
    const first = page(memoryKeyValue(rows))
    await first.storage.start(gannetHead)
    const { openId } = first.state()
    await first.storage.add(stileLamp(), 'Example')
    const second = page(memoryKeyValue(rows))
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
    const p = page(memoryKeyValue(rows))
    await p.storage.start(gannetHead)
    await p.storage.add({ ...stileLamp(), name: 'Mine' }, 'Example')
    const lamps = p.state().lamps
    return { rows, other: lamps[0]!, mine: lamps[1]! }
  }
  const opened = async (rows: Map<string, unknown>) => {
    const p = page(memoryKeyValue(rows))
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

test('damaged entries in storage are skipped', async () => {
  const rows = new Map<string, unknown>()
  const first = page(memoryKeyValue(rows))
  await first.storage.start(gannetHead)
  first.design.edit('Name', named('Newest'))
  await first.storage.flush()
  rows.set(open(first).states[0]!.key, { format: 'lamp', version: 1, nonsense: true })
  rows.set('lamp:odd', 'not a record')
  const second = page(memoryKeyValue(rows))
  await second.storage.start(stileLamp)
  expect(second.state().lamps).toHaveLength(1)
  expect(second.design.lamp().name).toBe('Gannet Head')
  expect(second.notice()).toBe(
    'The last state of “Newest” could not be read back: it is open as it was before, after “New”.',
  )
})

test('names of copies count up', () => {
  expect(copyName('A', [{ name: 'A' }])).toBe('A, copy')
  expect(copyName('A, copy', [{ name: 'A' }, { name: 'A, copy' }])).toBe('A, copy 2')
})
