// A worst-case table by hand, for what reads one: nothing is computed by the model.
import type { WireRun } from '../../src/power/schedule.ts'
import type { WorstCase, WorstChannel, WorstPoint } from '../../src/power/worstCase.ts'

export const point = (value: number, over: Partial<WorstPoint> = {}): WorstPoint => ({
  value,
  modeId: 'full',
  mode: 'Full',
  terminalV: 10,
  charge: 0.5,
  temperature: 'air',
  ...over,
})

/** One channel of 1 A into 10 V, far from all limits. */
export const worstChannel = (over: Partial<WorstChannel> = {}): WorstChannel => ({
  ids: ['c'],
  driverId: 'd',
  strings: 1,
  maxEmitterA: 3,
  inV: point(12),
  inA: point(1),
  lastingInA: point(1),
  outA: point(1),
  outV: point(10),
  outW: point(10),
  driverW: point(1),
  emitterA: point(1),
  unevenA: point(1),
  shortedA: 0,
  shortedEmitterA: 0,
  ...over,
})

export function table(over: Partial<WorstCase>) {
  const worst: WorstCase = {
    celsius: { cold: -20, air: 20, hot: 140 },
    fullV: 12,
    emptyV: 9,
    supplyA: point(1),
    lastingA: point(1),
    modes: [],
    channels: [],
    groups: [],
    ...over,
  }
  return {
    worst,
    faults: { supplyA: null, branchA: null },
    inrush: { farad: 0, typical: false, peakA: 0, prechargeA: null, prechargeS: null, joule: 0 },
  }
}

/** A run of 10 A that bears 20 A, behind a fuse of 15 A. */
export const wireRun = (over: Partial<WireRun> = {}): WireRun => ({
  id: 'main',
  part: 'main',
  channel: null,
  group: null,
  boards: 1,
  from: 'supply',
  to: 'branching place',
  gauge: { system: 'awg', number: 12 },
  gaugeWords: 'AWG 12',
  lengthMm: 1000,
  conductors: 2,
  connectors: 0,
  amps: 10,
  mode: 'Full',
  terminalV: 10,
  peakA: 11,
  dropV: 0.1,
  lossW: 1,
  bearsA: 20,
  coolBearsA: 20,
  airC: 20,
  leftOnC: null,
  insulationC: 75,
  bundled: 2,
  fuse: { amps: 15, volts: 32 },
  fuseRange: { leastA: 12.5, mostA: 20, fitsA: 15 },
  weakest: 'AWG 12',
  protectedBy: { amps: 15, volts: 32, at: 'main' },
  heldA: 20,
  heldC: 75,
  shortA: 900,
  endShortA: 300,
  plus: 'red',
  minus: 'black',
  ...over,
})
