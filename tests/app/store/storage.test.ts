import { expect, test } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import { browserKeyValue, type KeyValue, memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { copyName, createDrawer, STATES_KEPT } from '../../../src/app/store/storage.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead, iceRink, stileLamp } from '../../../src/library/demos.ts'

function page(kv: KeyValue) {
  let clock = 1_000
  const design = createDesign(gannetHead())
  // Keeping is asked for by hand: a test waits for no clock.
  const drawer = createDrawer(kv, design, { now: () => clock++, waitMs: 1e9 })
  return { design, drawer, state: () => drawer.store.getState() }
}
const named =
  (name: string) =>
  (lamp: Lamp): Lamp => ({ ...lamp, name })
const open = (p: ReturnType<typeof page>) => p.state().lamps.find((l) => l.id === p.state().openId)!

test('a first visit gets the first lamp; a reload gets the lamp as it was', async () => {
  const rows = new Map<string, unknown>()
  const first = page(memoryKeyValue(rows))
  await first.drawer.start(gannetHead)
  expect(first.state().lamps).toHaveLength(1)
  first.design.edit('Name', named('Mine'))
  await first.drawer.keep()

  const second = page(memoryKeyValue(structuredClone(rows)))
  await second.drawer.start(stileLamp)
  expect(second.design.lamp().name).toBe('Mine')
  expect(second.design.canUndo()).toBe(false)
  expect(open(second).states.map((s) => s.label)).toEqual(['Name', 'New'])
})

test('the last twenty states are kept and no more', async () => {
  const rows = new Map<string, unknown>()
  const p = page(memoryKeyValue(rows))
  await p.drawer.start(gannetHead)
  for (let i = 0; i < 30; i++) {
    p.design.edit(`Edit ${i}`, named(`n${i}`))
    await p.drawer.keep()
  }
  expect(open(p).states).toHaveLength(STATES_KEPT)
  expect(open(p).states[0]!.label).toBe('Edit 29')
  expect([...rows.keys()].filter((k) => k.startsWith('state:'))).toHaveLength(STATES_KEPT)
})

test('an earlier state comes back as an edit that can be undone', async () => {
  const p = page(memoryKeyValue())
  await p.drawer.start(gannetHead)
  p.design.edit('Name', named('Later'))
  await p.drawer.keep()
  await p.drawer.goBack(open(p).states[1]!)
  expect(p.design.lamp().name).toBe('Gannet Head')
  p.design.undo()
  expect(p.design.lamp().name).toBe('Later')
})

test('several lamps side by side: add, switch, copy, rename, delete', async () => {
  const p = page(memoryKeyValue())
  await p.drawer.start(gannetHead)
  const firstId = p.state().openId
  p.design.edit('Name', named('One'))
  await p.drawer.add(stileLamp(), 'Example')
  expect(p.design.lamp().name).toBe('Stile lamp')
  p.design.edit('Name', named('Stile, mine'))
  await p.drawer.switchTo(firstId)
  expect(p.design.lamp().name).toBe('One') // edits just before a switch are kept
  expect(p.state().lamps[1]!.name).toBe('Stile, mine')
  await p.drawer.duplicate(firstId)
  expect(p.state().lamps.map((l) => l.name)).toEqual(['One', 'Stile, mine', 'One, copy'])
  await p.drawer.rename(p.state().lamps[1]!.id, 'Path lamp')
  expect(p.state().lamps[1]!.name).toBe('Path lamp')
  await p.drawer.rename(p.state().openId, 'Here')
  expect(p.design.lamp().name).toBe('Here')
  await p.drawer.remove(p.state().openId, gannetHead)
  expect(p.state().lamps).toHaveLength(2)
  for (const l of [...p.state().lamps]) await p.drawer.remove(l.id, iceRink)
  expect(p.state().lamps.map((l) => l.name)).toEqual(['Ice rink'])
  expect(p.design.lamp().name).toBe('Ice rink')
})

test('a held handle is not kept half way', async () => {
  const p = page(memoryKeyValue())
  await p.drawer.start(gannetHead)
  const session = p.design.beginDrag('Drag')
  session.preview(named('half way'))
  await p.drawer.keep()
  expect(open(p).states).toHaveLength(1)
  session.commit()
  await p.drawer.keep()
  expect(open(p).states[0]!.label).toBe('Drag')
})

test('a browser that keeps nothing: said once, and the drawer works as long as the page lives', async () => {
  const broken: KeyValue = {
    keys: () => Promise.reject(new Error('no')),
    getMany: () => Promise.reject(new Error('no')),
    setMany: () => Promise.reject(new Error('no')),
    delMany: () => Promise.reject(new Error('no')),
  }
  const p = page(broken)
  let said = 0
  p.drawer.store.subscribe((now, before) => {
    if (now.trouble !== before.trouble) said++
  })
  await p.drawer.start(gannetHead)
  const firstId = p.state().openId
  p.design.edit('Name', named('Kept in memory'))
  await p.drawer.add(stileLamp(), 'Example')
  await p.drawer.switchTo(firstId)
  expect(p.design.lamp().name).toBe('Kept in memory')
  expect(said).toBe(1)
  expect(p.state().trouble).toBe(
    'This browser keeps no data for this page: nothing is kept by itself. Save the lamp to a file.',
  )
})

test('without IndexedDB the page still opens', async () => {
  const p = page(browserKeyValue()) // Node has none
  await p.drawer.start(gannetHead)
  expect(p.design.lamp().name).toBe('Gannet Head')
  expect(p.state().trouble).not.toBeNull()
})

test('a full store is said in words of its own', async () => {
  const kv = memoryKeyValue()
  const full = { ...kv, setMany: () => Promise.reject(new DOMException('full', 'QuotaExceededError')) }
  const p = page(full)
  await p.drawer.start(gannetHead)
  expect(p.state().trouble).toMatch(/^This browser’s storage is full/)
  full.setMany = () => Promise.reject(new Error('no'))
  p.design.edit('Name', named('x'))
  await p.drawer.keep()
  expect(p.state().trouble).toMatch(/^This browser’s storage is full/) // the first trouble stands
})

test('damaged things in storage are passed over', async () => {
  const rows = new Map<string, unknown>()
  const first = page(memoryKeyValue(rows))
  await first.drawer.start(gannetHead)
  first.design.edit('Name', named('Newest'))
  await first.drawer.keep()
  rows.set(open(first).states[0]!.key, { format: 'lamp', version: 1, nonsense: true })
  rows.set('lamp:odd', 'not a record')
  const second = page(memoryKeyValue(rows))
  await second.drawer.start(stileLamp)
  expect(second.state().lamps).toHaveLength(1)
  expect(second.design.lamp().name).toBe('Gannet Head')
})

test('names of copies count up', () => {
  expect(copyName('A', [{ name: 'A' }])).toBe('A, copy')
  expect(copyName('A, copy', [{ name: 'A' }, { name: 'A, copy' }])).toBe('A, copy 2')
})
