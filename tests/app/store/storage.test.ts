import { expect, test } from 'vitest'
import { browserKeyValue, memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { MAX_STATES } from '../../../src/app/store/storage.ts'
import { copyName } from '../../../src/app/store/storedLamps.ts'
import { gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'
import { fickle, named, openRecord, RETRY_MS, storagePage } from '../../kit/storagePage.ts'

test('a first visit gets the first lamp; a reload gets the lamp as it was', async () => {
  const rows = new Map<string, unknown>()
  const first = storagePage(memoryKeyValue(rows))
  await first.storage.start(gannetHead)
  expect(first.state().lamps).toHaveLength(1)
  first.design.edit('Name', named('Mine'))
  await first.storage.flush()

  const second = storagePage(memoryKeyValue(structuredClone(rows)))
  await second.storage.start(stileLamp)
  expect(second.design.lamp().name).toBe('Mine')
  expect(openRecord(second).states.map((s) => s.label)).toEqual(['Name', 'New'])
})

test('the last twenty states are stored and no more', async () => {
  const rows = new Map<string, unknown>()
  const p = storagePage(memoryKeyValue(rows))
  await p.storage.start(gannetHead)
  for (let i = 0; i < 30; i++) {
    p.design.edit(`Edit ${i}`, named(`n${i}`))
    await p.storage.flush()
  }
  expect(openRecord(p).states).toHaveLength(MAX_STATES)
  expect(openRecord(p).states[0]!.label).toBe('Edit 29')
  expect([...rows.keys()].filter((k) => k.startsWith('state:'))).toHaveLength(MAX_STATES)
})

test('an earlier state comes back as an edit that can be undone', async () => {
  const p = storagePage(memoryKeyValue())
  await p.storage.start(gannetHead)
  p.design.edit('Name', named('Later'))
  await p.storage.flush()
  await p.storage.goBack(openRecord(p).states[1]!)
  expect(p.design.lamp().name).toBe('Gannet Head')
  p.design.undo()
  expect(p.design.lamp().name).toBe('Later')
})

test('several lamps side by side: add, switch, copy, rename, delete', async () => {
  const p = storagePage(memoryKeyValue())
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
  const p = storagePage(memoryKeyValue())
  await p.storage.start(gannetHead)
  const session = p.design.beginDrag('Drag')
  session.preview(named('half way'))
  await p.storage.flush()
  expect(openRecord(p).states).toHaveLength(1)
  session.commit()
  await p.storage.flush()
  expect(openRecord(p).states[0]!.label).toBe('Drag')
})

test('a browser that stores nothing: one message, and the storage works as long as the page lives', async () => {
  const { kv, store } = fickle()
  kv.now = 'refuses'
  const p = storagePage(store)
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
    'This browser keeps no data for this page: nothing is saved automatically. Save the lamp to a file.',
  )
  // No call waits for the time limit again: one question, until the next try.
  expect(kv.asked).toBe(1)
})

test('without IndexedDB the page still opens', async () => {
  const p = storagePage(browserKeyValue()) // Node has none
  await p.storage.start(gannetHead)
  expect(p.design.lamp().name).toBe('Gannet Head')
  expect(p.state().error).not.toBeNull()
})

test('a full store has a message of its own; when there is room again, what was made meanwhile is stored', async () => {
  const { kv, store, rows } = fickle()
  const p = storagePage(store)
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
  const second = storagePage(memoryKeyValue(rows))
  await second.storage.start(iceRink)
  expect(second.design.lamp().name).toBe('Stile lamp')
  const [first] = second.state().lamps
  expect(first!.states.map((l) => l.label)).toEqual(['Name', 'Name', 'New'])
  await second.storage.switchTo(first!.id)
  expect(second.design.lamp().name).toBe('Two')
})

test('damaged entries in storage are skipped', async () => {
  const rows = new Map<string, unknown>()
  const first = storagePage(memoryKeyValue(rows))
  await first.storage.start(gannetHead)
  first.design.edit('Name', named('Newest'))
  await first.storage.flush()
  rows.set(openRecord(first).states[0]!.key, { format: 'lamp', version: 1, nonsense: true })
  rows.set('lamp:odd', 'not a record')
  const second = storagePage(memoryKeyValue(rows))
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
