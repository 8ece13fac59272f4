// Names of the example lamps, apart from the lamps: the command line's help names them without making a schema.
export const DEMO_NAMES = [
  'gannet-head',
  'stile-lamp',
  'ice-rink',
  'bench-check',
  'wide-array',
  'bin-lamp',
  'slip-light',
] as const
export type DemoName = (typeof DEMO_NAMES)[number]
