import { expect, test } from 'vitest'
import { sameLight } from '../../src/app/common/sameLight.ts'
import { sameTrace } from '../../src/job/danger/sameTrace.ts'
import { designHash } from '../../src/lamp/designHash.ts'
import { readLamp, readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { ReadingSet } from '../../src/lamp/readings.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { withoutMaking } from '../../src/lamp/withoutMaking.ts'
import { gannetHead } from '../../src/library/demos.ts'

const axis = (part: Partial<ReadingSet> = {}) => ({
  id: 'axis',
  kind: 'axis',
  rows: [{ distanceM: 4, lx: 10 }],
  ...part,
})
const withSets = (sets: unknown[]): unknown => ({ ...gannetHead(), readings: { sets } })
const whyOf = (json: unknown): string => {
  const read = readLamp(json)
  return read.ok ? '' : read.why.join(' ')
}

test('readings are kept in the file as they are', () => {
  const read = readLamp(withSets([axis({ mode: gannetHead().power?.modes[0]?.id })]))
  if (!read.ok) throw new Error(read.why.join(' '))
  expect(readLampText(writeLampText(read.lamp))).toEqual(read)
})

test('faults name their place', () => {
  expect(whyOf(withSets([axis(), axis()]))).toBe(
    'readings.sets[1].id: "axis" stands twice; each needs a name of its own.',
  )
  expect(whyOf(withSets([axis({ mode: 'candle' })]))).toMatch(
    /^readings\.sets\[0\]\.mode: no mode called "candle"; there is /,
  )
  expect(whyOf(withSets([{ ...axis(), rows: [{ distanceM: 4, lx: -1 }] }]))).toBe(
    'readings.sets[0].rows[0].lx: -1 does not fit; expected at least 0.',
  )
  expect(whyOf(withSets([{ ...axis(), row: [] }]))).toMatch(
    /readings\.sets\[0\]\.row: no such entry \(did you mean rows\?\)/,
  )
})

test('no light, no danger and no drawing hangs on them', () => {
  const lamp = gannetHead()
  const measured = { ...lamp, readings: { sets: [axis()] } } as Lamp
  expect(withoutMaking(measured)).toEqual(withoutMaking(lamp))
  expect(sameLight(measured, lamp)).toBe(true)
  expect(sameTrace(measured, lamp)).toBe(true)
  expect(designHash(measured)).toBe(designHash(lamp))
})
