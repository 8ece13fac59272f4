// Parses and validates arguments. Node's parser splits them; the error messages are ours. Own code, because a command-line
// package words its own errors and brings completion and help that nothing here uses.

import { parseArgs } from 'node:util'
import type { UnitSystem } from '../num/unitSystem.ts'
import { UserError } from './io.ts'
import { didYouMean } from './nearest.ts'

export interface OptionTable {
  /** many: may be repeated. */
  [name: string]: { type: 'boolean' | 'string'; value?: string; many?: true }
}

export interface Parsed {
  positionals: string[]
  values: Map<string, string>
  /** Values of repeatable options, in order. */
  lists: Map<string, string[]>
  flags: Set<string>
}

export function parseOptions(args: readonly string[], table: OptionTable): Parsed {
  const options = Object.fromEntries(Object.entries(table).map(([name, o]) => [name, { type: o.type }]))
  const { tokens } = parseArgs({ args: [...args], options, strict: false, allowPositionals: true, tokens: true })
  const parsed: Parsed = { positionals: [], values: new Map(), lists: new Map(), flags: new Set() }
  for (const token of tokens) {
    if (token.kind === 'positional') parsed.positionals.push(token.value)
    if (token.kind !== 'option') continue
    const option = Object.hasOwn(table, token.name) ? table[token.name] : undefined
    if (!option) throw new UserError(`No option ${token.rawName}${didYouMean(token.name, Object.keys(table), '--')}.`)
    if (parsed.values.has(token.name) || parsed.flags.has(token.name))
      throw new UserError(`${token.rawName} stands twice; once is enough.`)
    if (option.type === 'boolean') {
      if (token.value !== undefined) throw new UserError(`${token.rawName} takes no value.`)
      parsed.flags.add(token.name)
    } else {
      if (token.value === undefined || token.value === '')
        throw new UserError(`${token.rawName} needs a value: ${token.rawName} ${option.value}.`)
      if (option.many) parsed.lists.set(token.name, [...(parsed.lists.get(token.name) ?? []), token.value])
      else parsed.values.set(token.name, token.value)
    }
  }
  return parsed
}

/** A whole number, written as 2000000, 2,000,000, 2_000_000 or 2e6. */
export function wholeNumber(
  parsed: Parsed,
  name: string,
  { from, to, otherwise }: { from: number; to: number; otherwise: number },
): number {
  const text = parsed.values.get(name)
  if (text === undefined) return otherwise
  const bare = /^\d[\d,_]*(\.\d+)?(e\+?\d+)?$/i.test(text) ? Number(text.replace(/[,_]/g, '')) : Number.NaN
  if (Number.isInteger(bare) && bare >= from && bare <= to) return bare
  const span = `${from.toLocaleString('en-GB')} to ${to.toLocaleString('en-GB')}`
  throw new UserError(`--${name}: ${JSON.stringify(text)} does not fit; expected a whole number from ${span}.`)
}

/** Of every command that prints sizes or temperatures as text; JSON and lamp files are metric always. */
export const UNITS = { type: 'string', value: 'metric|inch' } as const

/** The system of units that was asked for. */
export function unitsOf(parsed: Parsed): UnitSystem {
  const text = parsed.values.get('units') ?? 'metric'
  if (text === 'metric' || text === 'inch') return text
  throw new UserError(`--units: ${JSON.stringify(text)} does not fit; expected metric or inch.`)
}

/** The single positional argument of a command. */
export function onlyPositional(parsed: Parsed, what: string, command: string): string {
  const [first, second] = parsed.positionals
  if (first === undefined || first === '') throw new UserError(`${command} needs ${what}.`)
  if (second !== undefined)
    throw new UserError(`${command} takes ${what} and nothing after it, but found ${JSON.stringify(second)} as well.`)
  return first
}
