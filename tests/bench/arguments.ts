// What stands after a flag of the bench.

export const numberAfter = (args: readonly string[], flag: string, otherwise: number): number =>
  args.includes(flag) ? Number(args[args.indexOf(flag) + 1]) : otherwise

export const listAfter = (args: readonly string[], flag: string, otherwise: readonly string[]): readonly string[] =>
  args.includes(flag) ? (args[args.indexOf(flag) + 1] ?? '').split(',') : otherwise
