// What an edit has changed, in numbers to stand behind its name: "Lens: stands at z 600 → 620 mm".
import { unitOfKey } from '../../job/sweep/labels.ts'
import type { Change } from '../../lamp/changes.ts'
import { THIN, toDigits, withUnit } from './format.ts'

const MOST_NUMBERS = 3

/** Empty where more than a few numbers of one thing have changed, or something else than numbers. */
export function changeWords(changes: readonly Change[]): string {
  const [first, ...more] = changes
  const name = first && more.length === 0 ? nameWords(first) : null
  return name ?? numberWords(changes) ?? ''
}

/** An edit's name with them behind it. */
export const withValues = (label: string, values: string): string =>
  values === '' ? label : `${label}${label.includes(': ') ? '' : ':'} ${values}`

function nameWords(change: Change): string | null {
  if ('index' in change || change.at.at(-1) !== 'name') return null
  const { from, to } = change
  return typeof from === 'string' && typeof to === 'string' ? `“${from}” → “${to}”` : null
}

function numberWords(changes: readonly Change[]): string | null {
  if (changes.length > MOST_NUMBERS) return null
  const parentOf = ({ at }: Change) => at.slice(0, -1).join('\0')
  const parents = new Set(changes.map(parentOf))
  if (parents.size !== 1) return null
  const rows: { key: string; from: number; to: number }[] = []
  for (const change of changes) {
    if ('index' in change) return null
    const { from, to } = change
    if (typeof from !== 'number' || typeof to !== 'number') return null
    rows.push({ key: String(change.at.at(-1)), from, to })
  }
  return rows.map((row) => (rows.length === 1 ? pairWords(row) : `${shortName(row.key)} ${pairWords(row)}`)).join(', ')
}

/** The unit stands once; a degree sign follows its number. */
function pairWords({ key, from, to }: { key: string; from: number; to: number }): string {
  const unit = unitOfKey(key)
  const [a, b] = unit === 'share' ? [100 * from, 100 * to] : [from, to]
  const digits = (value: number) => toDigits(value, 5)
  if (unit === '') return `${digits(a)} → ${digits(b)}`
  if (unit === 'deg') return `${digits(a)}° → ${digits(b)}°`
  return unit === 'share' ? `${digits(a)} → ${digits(b)}${THIN}%` : `${digits(a)} → ${withUnit(digits(b), unit)}`
}

/** xMm is x, turnDeg is turn. */
const shortName = (key: string): string =>
  key
    .replace(/(Wm2|KW|Mm|Nm|Deg|Lm|M|A|C)$/, '')
    .replace(/(?<=[a-z])(?=[A-Z])/g, ' ')
    .toLowerCase()
