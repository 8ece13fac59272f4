// Which of an element's properties are text that is read, and that text with a decimal mark. An element with translate="no" keeps its own words:
// files, codes. Names that the builder gave keep theirs everywhere (`keepWordsOf`).
import { type DecimalMark, withDecimalMark } from '../../../num/decimalMark.ts'
import { ownWordsNow } from '../../common/decimalMark.ts'

const TEXTS = new Set([
  'children',
  'title',
  'aria-label',
  'aria-valuetext',
  'aria-description',
  'placeholder',
  'alt',
  'data-head',
])
const VERBATIM = new Set(['code', 'pre', 'kbd', 'style', 'script', 'textarea'])

/** Text, whole or in lists; what else stands there stays the same object. */
function shownText(value: unknown, mark: DecimalMark): unknown {
  if (typeof value === 'string') return withDecimalMark(value, mark, ownWordsNow)
  if (typeof value === 'number') return Number.isInteger(value) ? value : withDecimalMark(String(value), mark)
  if (!Array.isArray(value)) return value
  const shown = value.map((v) => shownText(v, mark))
  return shown.some((v, i) => v !== value[i]) ? shown : value
}

/** The properties as they are, unless one of their texts changes. */
export function withShownProps(type: unknown, props: unknown, mark: DecimalMark): unknown {
  if (props === null || typeof props !== 'object') return props
  if (typeof type === 'string' && VERBATIM.has(type)) return props
  if ('translate' in props && props.translate === 'no') return props
  const changed = Object.entries(props).flatMap(([name, value]) => {
    if (!TEXTS.has(name)) return []
    const shown = shownText(value, mark)
    return shown === value ? [] : [[name, shown] as const]
  })
  return changed.length === 0 ? props : { ...props, ...Object.fromEntries(changed) }
}
