// First looks read by others: the same sheet to the last bit, the next lamp meanwhile, and what happens when they fail.
import { describe, expect, test } from 'vitest'
import { hereHand, makePool } from '../../../src/engine/workers/pool.ts'
import {
  type FirstLookAnswer,
  type FirstLookOrder,
  handedWith,
  makeFirstLooks,
  type ReadingHand,
  readFirstLook,
} from '../../../src/job/beam/firstSheet.ts'
import type { JobOptions, Sheet } from '../../../src/job/beam/sheet.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import { makeDeskHere } from '../../../src/job/service/service.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { stileLamp } from '../../../src/library/demos.ts'
import { watchedHand } from '../../kit/watchedHand.ts'

const options: JobOptions = { seed: 4, maxRays: 1 << 15, precision: 0, background: false }
const farther = (mm: number): Lamp => {
  const lamp = stileLamp()
  return { ...lamp, target: { ...lamp.target, distanceM: lamp.target.distanceM + mm / 1000 } }
}
/** All of a sheet but what a clock says. */
const timeless = ({ seconds: _, raysPerSecond: __, ...sheet }: Sheet) => sheet

/** Given once; others wait for it. */
function sign() {
  let give = () => {}
  const given = new Promise<void>((done) => {
    give = done
  })
  return { give, given }
}

/** In this thread, but what passes is copied and handed over as between threads. `hold`: answers wait until they are let go. */
function hereReader({ spoil, hold = false }: { spoil?: (order: FirstLookOrder) => void; hold?: boolean } = {}) {
  let take: (answer: FirstLookAnswer | null) => void = () => {}
  let broken: (why: string) => void = () => {}
  const held: (() => void)[] = []
  const orders: FirstLookOrder[] = []
  const asked = sign()
  const hand: ReadingHand = {
    post(order) {
      const mine = structuredClone(order, { transfer: handedWith(order.first.shares) })
      orders.push(mine)
      asked.give()
      spoil?.(mine)
      const answer = () => {
        const read = readFirstLook(mine)
        take(structuredClone(read, { transfer: 'shares' in read ? handedWith(read.shares) : [] }))
      }
      if (hold) held.push(answer)
      else setTimeout(answer, 0)
    },
    onAnswer(f) {
      take = f
    },
    onBroken(f) {
      broken = f
    },
    close() {},
  }
  return {
    hand,
    orders,
    asked: asked.given,
    starts: () => take(null),
    breaks: (why: string) => broken(why),
    letGo: () => held.shift()!(),
  }
}

async function sheetsOf(hands?: ReturnType<typeof hereReader>[], lamp = stileLamp()): Promise<Sheet[]> {
  const pool = makePool([hereHand()])
  const sheets: Sheet[] = []
  const looks = hands && makeFirstLooks(hands.map(({ hand }) => hand))
  for (const hand of hands ?? []) hand.starts()
  try {
    await traceLamp(pool, lamp, options, (sheet) => sheets.push(sheet), undefined, undefined, looks)
  } finally {
    pool.close()
  }
  return sheets
}

describe('a trace whose first look is read elsewhere', () => {
  test('gives the same sheets, the first and all that follow, to the last bit', async () => {
    const reader = hereReader()
    const [here, there] = [await sheetsOf(), await sheetsOf([reader])]
    expect(reader.orders).toHaveLength(1)
    expect(there.map(timeless)).toEqual(here.map(timeless))
    expect(here.map((s) => s.rays)).toEqual([1 << 14, 1 << 15, 1 << 15])
  })

  test('a run that is not honest is told in the same words', async () => {
    const reader = hereReader({
      spoil: ({ first }) => {
        first.shares[2]!.sums[2]! += 5
      },
    })
    await expect(sheetsOf([reader])).rejects.toThrow('The run is not honest: The ledger of batch 3 does not close')
  })

  test('a reader that breaks says so; one that has not started, or is broken, is not waited for', async () => {
    const reader = hereReader({ hold: true })
    const failed = sheetsOf([reader])
    await reader.asked
    reader.breaks('A reading worker stopped.')
    await expect(failed).rejects.toThrow('A reading worker stopped.')
    const pool = makePool([hereHand()])
    const looks = makeFirstLooks([hereReader().hand, reader.hand])
    reader.breaks('again')
    const sheet = await traceLamp(pool, stileLamp(), options, () => {}, undefined, undefined, looks)
    expect(sheet?.state).toBe('settled')
    pool.close()
  })
})

describe('the desk, while a hand drags', () => {
  test('takes the next lamp once the first look is handed on; both sheets come, and the older trace ends there', async () => {
    const readers = [hereReader({ hold: true }), hereReader({ hold: true })]
    const pool = makePool([hereHand()])
    const desk = makeDeskHere(pool, () => readers.map(({ hand }) => hand))
    desk.startReaders()
    for (const reader of readers) reader.starts()
    const seen: string[] = []
    const trace = (name: string) => {
      const handed = sign()
      const tell = (sheet: Sheet) => seen.push(`${name} ${sheet.state}`)
      const ended = desk.trace({ ...farther(seen.length), name }, options, tell, handed.give)
      return { isHanded: handed.given, ended: ended.then(() => seen.push(`${name} ended`)) }
    }
    const one = trace('one')
    await one.isHanded
    expect(seen).toEqual([])
    const two = trace('two')
    await one.ended
    await two.isHanded
    expect(readers.map(({ orders }) => orders.map(({ lamp }) => lamp.name))).toEqual([['one'], ['two']])
    // A third finds nobody free: it waits, and is handed on as soon as one is.
    const three = trace('three')
    await two.ended
    readers[0]!.letGo()
    await three.isHanded
    expect(seen).toEqual(['one ended', 'two ended', 'one rough'])
    readers[1]!.letGo()
    readers[0]!.letGo()
    await three.ended
    expect(seen.slice(3, 5)).toEqual(['two rough', 'three rough'])
    expect(seen.at(-2)).toBe('three settled')
    desk.close()
  })

  test('a third lamp that is replaced while it waits for a reader is never read', async () => {
    const reader = hereReader({ hold: true })
    const { hand, rests } = watchedHand()
    const desk = makeDeskHere(makePool([hand]), () => [reader.hand])
    desk.startReaders()
    reader.starts()
    const handed: string[] = []
    const trace = (name: string) => {
      const isHanded = sign()
      const told = () => {
        handed.push(name)
        isHanded.give()
      }
      return { ended: desk.trace({ ...stileLamp(), name }, options, () => {}, told), isHanded: isHanded.given }
    }
    await trace('one').isHanded
    trace('two')
    await rests()
    const three = trace('three')
    await rests()
    expect(handed).toEqual(['one'])
    reader.letGo()
    await three.isHanded
    expect(handed).toEqual(['one', 'three'])
    reader.letGo()
    await three.ended
    expect(reader.orders.map(({ lamp }) => lamp.name)).toEqual(['one', 'three'])
    desk.close()
  })
})
