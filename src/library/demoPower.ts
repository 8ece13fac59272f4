// Cooling and supply of the example lamps. All invented, typical of their class; no maker's data.
import type { Cooling, Driver, Power } from '../lamp/schema.ts'

const buck: Driver = {
  id: 'buck',
  name: 'Step-down converter, constant current',
  kind: 'buck',
  inputMinV: 9,
  inputMaxV: 60,
  headroomV: 2,
  efficiency: 0.93,
  maxOutputA: 3,
  dimming: 'current',
}

/** Fins for a few minutes of everything, or hours of little. */
export const gannetCooling: Cooling = {
  plate: { thicknessMm: 12, metal: 'aluminium-6061' },
  sink: { kind: 'fins', count: 18, heightMm: 40, thicknessMm: 2, spacingMm: 9 },
  air: { kind: 'still' },
  finish: 'anodised',
  aim: 'level',
}

export const gannetPower: Power = {
  drivers: [buck],
  groups: [{ id: 'all', name: 'All boards', driver: 'buck', wired: 'each' }],
  supply: {
    kind: 'pack',
    name: '10 in series, 6 in parallel',
    chemistry: 'li-ion',
    series: 10,
    parallel: 6,
    cellAh: 3,
    cellMilliohm: 25,
    cellGram: 47,
    maxCellA: 10,
    maxCellC: 60,
    cutOffCellV: 3,
    charged: 1,
    protectionA: 40,
  },
  harness: {
    main: {
      gauge: { system: 'awg', number: 8 },
      lengthMm: 1500,
      connectors: 1,
      fuse: { amps: 40, volts: 58, breaksA: 2000 },
    },
    channel: {
      gauge: { system: 'awg', number: 20 },
      lengthMm: 600,
      connectors: 1,
      bundled: 2,
      fuse: { amps: 3, volts: 58 },
    },
    board: { gauge: { system: 'awg', number: 20 }, lengthMm: 200, connectors: 0, insulationC: 200 },
    connectorMilliohm: 1,
    connectorMaxA: 40,
    connectorMaxV: 60,
    insulationC: 75,
    allowedDrop: 0.03,
    contactor: { maxA: 50, milliohm: 0.5, maxV: 60, breaksA: 100, prechargeOhm: 22 },
  },
  modes: [
    { id: 'low', name: 'Low', share: 0.15, stepDown: null },
    { id: 'high', name: 'High', share: 0.5, stepDown: { watch: 'plate', atC: 75, toShare: 0.5 } },
    { id: 'turbo', name: 'Turbo', share: 1, stepDown: null },
  ],
}

export const stileCooling: Cooling = {
  plate: { thicknessMm: 4, metal: 'aluminium-6063' },
  sink: { kind: 'fins', count: 8, heightMm: 25, thicknessMm: 1.5, spacingMm: 6 },
  air: { kind: 'still' },
  finish: 'anodised',
  aim: 'level',
}

/** Three cells and a converter that lifts them to the board's voltage. */
export const stilePower: Power = {
  drivers: [
    {
      ...buck,
      id: 'boost',
      name: 'Step-up converter, constant current',
      kind: 'boost',
      inputMinV: 8,
      inputMaxV: 16,
      headroomV: 1,
      efficiency: 0.9,
      maxOutputA: 1.5,
      dimming: 'pulse width',
    },
  ],
  groups: [{ id: 'all', name: 'The board', driver: 'boost', wired: 'each' }],
  supply: {
    kind: 'pack',
    name: '3 in series',
    chemistry: 'li-ion',
    series: 3,
    parallel: 1,
    cellAh: 3,
    cellMilliohm: 25,
    cellGram: 47,
    maxCellA: 10,
    maxCellC: 60,
    cutOffCellV: 2.8,
    charged: 1,
    protectionA: 8,
  },
  harness: {
    main: { gauge: { system: 'awg', number: 18 }, lengthMm: 150, connectors: 1, fuse: { amps: 5, volts: 32 } },
    channel: { gauge: { system: 'awg', number: 18 }, lengthMm: 50, connectors: 0, fuse: null },
    board: { gauge: { system: 'awg', number: 20 }, lengthMm: 80, connectors: 0, insulationC: 200 },
    connectorMilliohm: 2,
    connectorMaxA: 10,
    connectorMaxV: 32,
    insulationC: 75,
    allowedDrop: 0.03,
    contactor: null,
  },
  modes: [
    { id: 'low', name: 'Low', share: 0.2, stepDown: null },
    { id: 'high', name: 'High', share: 1, stepDown: { watch: 'junction', atC: 110, toShare: 0.5 } },
  ],
}

export const rinkCooling: Cooling = {
  plate: { thicknessMm: 8, metal: 'aluminium-6063' },
  sink: { kind: 'fins', count: 24, heightMm: 60, thicknessMm: 2, spacingMm: 8 },
  air: { kind: 'still' },
  finish: 'anodised',
  aim: 'down',
}

export const rinkPower: Power = {
  drivers: [{ ...buck, inputMinV: 20, headroomV: 3, efficiency: 0.94 }],
  groups: [
    { id: 'outer', name: 'Outer rows', driver: 'buck', wired: 'each' },
    { id: 'inner', name: 'Inner rows', driver: 'buck', wired: 'each' },
  ],
  supply: { kind: 'fixed', name: 'Mains supply unit of 48 V', volts: 48, milliohm: 20, maxA: 15, shortA: 25 },
  harness: {
    main: { gauge: { system: 'mm2', mm2: 4 }, lengthMm: 2000, connectors: 1, fuse: { amps: 15, volts: 58 } },
    channel: {
      gauge: { system: 'mm2', mm2: 0.75 },
      lengthMm: 500,
      connectors: 1,
      bundled: 2,
      fuse: { amps: 2, volts: 58 },
    },
    board: { gauge: { system: 'mm2', mm2: 0.75 }, lengthMm: 150, connectors: 0, insulationC: 200 },
    connectorMilliohm: 1,
    connectorMaxA: 20,
    connectorMaxV: 60,
    insulationC: 75,
    allowedDrop: 0.03,
    contactor: null,
  },
  modes: [
    { id: 'full', name: 'Full', share: 1, stepDown: null },
    { id: 'inner', name: 'Inner rows only', share: 1, groupA: { outer: 0 }, stepDown: null },
  ],
}

export const benchPower: Power = {
  drivers: [{ ...buck, inputMinV: 5, inputMaxV: 36, headroomV: 1.5, efficiency: 0.9 }],
  groups: [{ id: 'all', name: 'The emitter', driver: 'buck', wired: 'each' }],
  supply: { kind: 'fixed', name: 'Bench supply of 12 V', volts: 12, milliohm: 10, maxA: 3, shortA: 5 },
  harness: {
    main: { gauge: { system: 'mm2', mm2: 1 }, lengthMm: 1000, connectors: 2, fuse: { amps: 3, volts: 32 } },
    channel: { gauge: { system: 'mm2', mm2: 0.5 }, lengthMm: 200, connectors: 0, fuse: null },
    board: { gauge: { system: 'mm2', mm2: 0.5 }, lengthMm: 200, connectors: 0, insulationC: 200 },
    connectorMilliohm: 2,
    connectorMaxA: 5,
    connectorMaxV: 30,
    insulationC: 75,
    allowedDrop: 0.03,
    contactor: null,
  },
  modes: [{ id: 'full', name: 'Full', share: 1, stepDown: null }],
}

export const binCooling: Cooling = {
  plate: { thicknessMm: 8, metal: 'aluminium-6063' },
  sink: { kind: 'fins', count: 34, heightMm: 60, thicknessMm: 2, spacingMm: 8 },
  air: { kind: 'still' },
  finish: 'anodised',
  aim: 'level',
}

export const binPower: Power = {
  ...gannetPower,
  drivers: [{ ...buck, maxOutputA: 1 }],
  harness: {
    ...gannetPower.harness,
    channel: {
      ...gannetPower.harness.channel,
      fuse: { amps: 1, volts: 58 },
    },
  },
  modes: [
    { id: 'low', name: 'Low', share: 0.15, stepDown: null },
    { id: 'mid', name: 'Mid', share: 0.5, stepDown: null },
    { id: 'high', name: 'High', share: 1, stepDown: { watch: 'plate', atC: 70, toShare: 0.5 } },
  ],
}

export const slipCooling: Cooling = {
  plate: { thicknessMm: 8, metal: 'aluminium-6063' },
  sink: { kind: 'fins', count: 20, heightMm: 60, thicknessMm: 2, spacingMm: 8 },
  air: { kind: 'still' },
  finish: 'anodised',
  aim: 'level',
}

export const slipPower: Power = {
  ...rinkPower,
  groups: [{ id: 'all', name: 'All boards', driver: 'buck', wired: 'each' }],
  modes: [
    { id: 'full', name: 'Full', share: 1, stepDown: null },
    { id: 'half', name: 'Half', share: 0.5, stepDown: null },
  ],
}
