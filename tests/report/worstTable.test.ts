import { expect, test } from 'vitest'
import { worstRows } from '../../src/report/worstTable.ts'
import { point, table, worstChannel } from '../kit/fakeWorst.ts'

test('supply, then each kind of channel, with what bears it and where it occurs', () => {
  const rows = worstRows(
    table({
      fullV: 42,
      emptyV: 30,
      supplyA: point(31.2, { mode: 'Turbo', terminalV: 30, charge: 0.017, temperature: 'cold' }),
      lastingA: point(29.8, { mode: 'Turbo', terminalV: 30.5, charge: null }),
      channels: [
        worstChannel({
          ids: ['B1', 'B2'],
          unevenA: point(1.5, { temperature: 'hot' }),
          shortedA: 20,
          shortedEmitterA: 10,
        }),
        worstChannel({ ids: ['C'] }),
        worstChannel({ ids: ['off'], outA: point(0) }),
      ],
    }),
  )
  expect(rows.slice(0, 3)).toEqual([
    { what: 'Supply, volts', value: '30 to 42 V', limit: '', where: 'cut-off to full' },
    {
      what: 'Supply, for a moment',
      value: '31.2 A',
      limit: '',
      where: '“Turbo”, 30 V at the supply’s terminals (charge 1.7 %), cold start at −20 °C',
    },
    {
      what: 'Supply, lasting',
      value: '29.8 A',
      limit: '',
      where: '“Turbo”, 30.5 V at the supply’s terminals, air of 20 °C',
    },
  ])
  const named = new Map(rows.map((r) => [r.what, r]))
  expect(named.get('2 channels (B1 …): emitter of the string that takes most')).toEqual({
    what: '2 channels (B1 …): emitter of the string that takes most',
    value: '1.5 A',
    limit: '3 A',
    where: '“Full”, 10 V at the supply’s terminals (charge 50 %), junctions at their limit',
  })
  expect(named.get('2 channels (B1 …): emitter, its driver failed short')).toMatchObject({
    value: '10 A',
    limit: '3 A',
    where: '20 A through the channel, until a fuse opens; full supply, at rest, junctions at their limit',
  })
  expect([...named.keys()].filter((k) => k.startsWith('C:'))).toEqual([
    'C: driver, volts in',
    'C: driver, current in',
    'C: driver, current out',
    'C: driver, volts out',
    'C: boards, power',
    'C: emitter',
    'C: emitter, its driver failed short',
  ])
  expect(named.get('C: driver, volts in')).toMatchObject({ value: '12 V', where: 'full supply, at rest' })
  expect([...named.keys()].some((k) => k.startsWith('off'))).toBe(false)
})

test('a sink by its data sheet: all the boards’ power at most, 3 channels of 6 W and one of 4 W, beside what it may take', () => {
  const worst = table({
    channels: [worstChannel({ ids: ['B1', 'B2', 'B3'], outW: point(6) }), worstChannel({ ids: ['C'], outW: point(4) })],
  })
  const rated = { kind: 'rated' as const, resistanceKW: 1, heatCapacityJK: 0, flow: 'natural' as const }
  const row = (sink: { rated: (typeof rated & { maxW?: number }) | null }) =>
    worstRows({ ...worst, sink }).find((r) => r.what === 'Sink, heat at most')
  expect(row({ rated: { ...rated, maxW: 20 } })).toMatchObject({ value: '22 W', limit: '20 W' })
  expect(row({ rated })).toMatchObject({ value: '22 W', limit: '' })
  expect(row({ rated: null })).toBeUndefined()
})

test('a lamp that draws nothing has no table', () => expect(worstRows(table({ supplyA: point(0) }))).toEqual([]))
