// A worst-case table by hand, for what reads one: nothing is computed by the model.
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
    ...over,
  }
  return {
    worst,
    faults: { supplyA: null, branchA: null },
    inrush: { farad: 0, typical: false, peakA: 0, prechargeA: null, prechargeS: null, joule: 0 },
  }
}
