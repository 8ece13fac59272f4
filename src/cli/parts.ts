// lampwright parts: the parts list with masses, centre of gravity and prices, and the order of assembly.

import { type AssemblyStep, assemblyOrder } from '../bill/assemblyOrder.ts'
import { type PartsList, partsList } from '../bill/partsList.ts'
import { checkDesign } from '../checks/check.ts'
import { findingsIn } from '../checks/finding.ts'
import type { PowerUpItem } from '../electrothermal/result.ts'
import { preparePower } from '../job/power/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import { allInSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { assemblyWords, type StepWords } from '../report/assembly.ts'
import { partsHtml } from '../report/partsPage.ts'
import {
  amountWords,
  massOf,
  moneyWords,
  noteSentences,
  partsCsv,
  partWords,
  STEP_TITLES,
  sizeWords,
  sumSentences,
} from '../report/partsTable.ts'
import { columns, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { severeLine } from './severeLine.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const PARTS_OPTIONS = {
  csv: { type: 'boolean' },
  json: { type: 'boolean' },
  html: { type: 'boolean' },
  order: { type: 'boolean' },
  out: { type: 'string', value: 'FILE' },
  force: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

const WIDTH = 96
const FORMS = ['csv', 'json', 'html'] as const
type Form = (typeof FORMS)[number] | 'text'

export async function partsCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  const name = onlyPositional(parsed, 'a lamp file or the name of an example', 'parts')
  const form = formOf(parsed)
  const wantsOrder = parsed.flags.has('order')
  if (form === 'csv' && wantsOrder)
    throw new UserError('--csv holds the parts alone; --order goes with text, --html or --json.')
  const to = parsed.values.get('out')
  const over = parsed.flags.has('force')
  const lamp = await openLamp(name)
  if (to !== undefined) expectWritable(to, over)
  const list = partsList(lamp)
  const system = form === 'json' ? 'metric' : unitsOf(parsed)
  const text = await textOf(form, lamp, list, wantsOrder, system)
  if (to === undefined) io.out(text)
  else {
    writeFile(to, text, over)
    io.out(`Wrote ${stripControls(to)}.\n`)
  }
  io.err(severeLine(findingsIn(checkDesign(lamp), system), ' All of them: lampwright check.'))
  return EXIT.fine
}

function formOf({ flags }: Parsed): Form {
  const [form, more] = FORMS.filter((f) => flags.has(f))
  if (more !== undefined) throw new UserError(`--${form} and --${more} are two forms; one of them can be written.`)
  return form ?? 'text'
}

async function textOf(
  form: Form,
  lamp: Lamp,
  list: PartsList,
  wantsOrder: boolean,
  system: UnitSystem,
): Promise<string> {
  if (form === 'csv') return partsCsv(list, '.', system)
  const steps = wantsOrder ? assemblyOrder(lamp, list) : []
  const words = wantsOrder ? assemblyWords(lamp, steps, list, powerUpOf(lamp), system) : []
  if (form === 'html') return partsHtml(list, words, system)
  if (form === 'json') return `${JSON.stringify(partsJson(list, wantsOrder ? { steps, words } : null))}\n`
  return partsText(list, words, system)
}

/** No mode is run: the list hangs on the start alone. */
const powerUpOf = (lamp: Lamp): readonly PowerUpItem[] =>
  lamp.boards.length > 0 ? preparePower(lamp).report([]).powerUp : []

function partsJson(list: PartsList, order: { steps: readonly AssemblyStep[]; words: readonly StepWords[] } | null) {
  return {
    version: VERSION,
    ...allInSystem(list, 'metric'),
    sums: sumSentences(list),
    notes: noteSentences(list),
    ...(order ? { order: order.steps.map((step, i) => ({ ...step, words: order.words[i] })) } : {}),
  }
}

function partsText(list: PartsList, order: readonly StepWords[], system: UnitSystem): string {
  const { parts, cost } = list
  const rows = parts.map((p) => [
    p.unit === 'piece' ? `${amountWords(p, system)} ×` : amountWords(p, system),
    stripControls(partWords(p)),
    massOf(p, system),
    p.cost === null ? '' : stripControls(moneyWords(p.cost, cost.currency)),
  ])
  const table = columns(rows, [0, 3])
  const lines = parts.flatMap((p, i) => {
    const details = [sizeWords(p.size, system), p.material ?? '', p.assumed ? 'typical, not in the document' : '']
    const under = details.filter((d) => d !== '').join('; ')
    return [
      ...(p.step === parts[i - 1]?.step ? [] : ['', STEP_TITLES[p.step]]),
      `  ${table[i] ?? ''}`,
      ...(under === '' ? [] : [`      ${wrapped(stripControls(under), WIDTH, '        ')}`]),
    ]
  })
  const sentences = [
    ...sumSentences(list, system),
    ...noteSentences(list, system),
    'Prices and weighed masses go into the lamp’s file, workshop.prices and workshop.massG, by the key that --csv shows.',
  ]
  return `${[
    stripControls(list.lamp),
    ...lines,
    '',
    ...sentences.map((s) => wrapped(stripControls(s), WIDTH, '  ')),
    ...orderLines(order),
  ].join('\n')}\n`
}

function orderLines(order: readonly StepWords[]): string[] {
  const item = (mark: string, text: string) => `   ${mark} ${wrapped(stripControls(text), WIDTH, '       ')}`
  const steps = order.flatMap((step, i) => [
    '',
    `${i + 1}. ${step.title}`,
    `   ${wrapped(stripControls(step.text), WIDTH, '   ')}`,
    ...step.cautions.map((c) => item('! ', c)),
    ...step.parts.map((p) => item('- ', p)),
    ...step.checks.map((c) => item(c.done ? '[x]' : '[ ]', c.text)),
  ])
  return order.length > 0 ? ['', 'Order of assembly', ...steps] : []
}
