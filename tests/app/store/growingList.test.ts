// A long list is kept in rows: what each save writes, and that it comes back whole.
import { expect, test } from 'vitest'
import { createGrowingList } from '../../../src/app/store/growingList.ts'
import { memoryKeyValue } from '../../../src/app/store/keyValue.ts'

const upTo = (n: number, of = 'a') => Array.from({ length: n }, (_, i) => `${of}${i}`)

function lists() {
  const rows = new Map<string, unknown>()
  const store = memoryKeyValue(rows)
  const wrote: string[][] = []
  const watched = {
    ...store,
    setMany(more: [string, unknown][]) {
      wrote.push(more.map(([key]) => key))
      return store.setMany(more)
    },
  }
  return { rows, wrote, list: createGrowingList(watched), again: () => createGrowingList(watched) }
}
const itself = (head: unknown) => (head as { list: string }).list

test('a save writes the head and the rows that have grown; what comes back is the last of it', async () => {
  const { wrote, list, again } = lists()
  for (const n of [10, 100, 130, 1000, 1001]) await list.save('k', 'a', { list: 'a', n }, upTo(n))
  // 64 in a row: 10, 100 and 130 end in the rows 0, 1 and 2; 1000 in row 15.
  expect(wrote.map((keys) => keys.length - 1)).toEqual([1, 2, 2, 14, 1])
  expect(await again().load('k', itself)).toEqual({ head: { list: 'a', n: 1001 }, items: upTo(1001) })
  const next = again()
  await next.load('k', itself)
  await next.save('k', 'a', { list: 'a' }, upTo(1002))
  expect(wrote.at(-1)).toHaveLength(2)
})

test('another list in its place is written from its first item, a shorter one too', async () => {
  const { list, again } = lists()
  await list.save('k', 'a', { list: 'a' }, upTo(200))
  await list.save('k', 'b', { list: 'b' }, upTo(300, 'b'))
  expect((await again().load('k', itself))?.items).toEqual(upTo(300, 'b'))
  await list.save('k', 'b', { list: 'b' }, upTo(3, 'c'))
  expect((await again().load('k', itself))?.items).toEqual(upTo(3, 'c'))
  expect(await again().load('k', () => null)).toBeNull()
})

test('a save that fails is made up for by the next; what is forgotten leaves nothing', async () => {
  const { rows } = lists()
  const store = memoryKeyValue(rows)
  let full = false
  const list = createGrowingList({
    ...store,
    setMany: (more) => (full ? Promise.reject(new Error('full')) : store.setMany(more)),
  })
  await list.save('k', 'k', { list: 'k' }, upTo(70))
  full = true
  await expect(list.save('k', 'k', { list: 'k' }, upTo(140))).rejects.toThrow('full')
  full = false
  await list.save('k', 'k', { list: 'k' }, upTo(141))
  expect((await list.load('k', itself))?.items).toEqual(upTo(141))
  await list.save('k 2', 'k 2', { list: 'k 2' }, upTo(1))
  await list.forget(['k'])
  expect([...rows.keys()]).toEqual(['k 2', 'row:k 2 0'])
})
