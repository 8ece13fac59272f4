// A number with its unit: typed in any unit of its kind, stepped by arrow keys, scrubbed by dragging its label.
// A held arrow key and a scrub are one step of history each: `onBeginDrag` opens a session, `commit` closes it.

import { useEffect, useId, useLayoutEffect, useRef, useState } from 'react'
import { shownText } from '../common/decimalMark.ts'
import { shownUnit } from '../common/unitSystem.ts'
import { formatNumber, parseQuantity, type Range, rangeFault, stepped, type Unit, unitLabel } from '../common/units.ts'
import { unitSystem, useUnitSystem } from '../store/unitSystem.ts'
import { useFault } from './useFault.ts'
import './ui.css'

/** An edit in progress. `preview` returns why a value is invalid, or null. */
interface NumberDragSession {
  preview(value: number): string | null
  commit(): void
  cancel(): void
}

export interface NumberFieldProps extends Range {
  label: string
  /** Label for screen readers only: a table names the field on screen. */
  hideLabel?: boolean
  /** Null: the selected items differ. */
  value: number | null
  /** In place of a value that is null; absent: the selected things differ. */
  whenEmpty?: string
  unit: Unit
  step: number
  /** What the number is for, in one short line. */
  description?: string
  digits?: number
  isDisabled?: boolean
  /** Returns why the value is invalid, or null. */
  onSet(value: number): string | null
  /** An emptied field takes the value away; without it that is invalid. */
  onClear?(): string | null
  /** Without it, arrow keys and scrubs set each value as a step of its own. */
  onBeginDrag?(): NumberDragSession
}

const PX_PER_STEP = 4

export function NumberField(p: NumberFieldProps) {
  const inputId = useId()
  const doesId = useId()
  const whyId = useId()
  const [draft, setDraft] = useState<string | null>(null)
  const { why, isInvalid, set: setWhy } = useFault()
  // A reason is of the value that stood there: another value, typed here or come by undo, has none.
  const [faultAt, setFaultAt] = useState(p.value)
  if (faultAt !== p.value) {
    setFaultAt(p.value)
    setWhy(null)
  }
  const drag = useNumberDrag(p, setWhy)
  // After Enter all of it is taken up, as on entering: the next number typed takes its place.
  const input = useRef<HTMLInputElement>(null)
  const entering = useRef(false)
  const [entered, setEntered] = useState(0)
  useLayoutEffect(() => {
    if (entered > 0) input.current?.select()
  }, [entered])
  const system = useUnitSystem()
  const { toShown, moreDigits } = shownUnit(p.unit, system)
  const shown = p.value === null ? '' : formatNumber(toShown(p.value), Math.min(4, (p.digits ?? 4) + moreDigits))

  const commit = (leave: boolean) => {
    if (draft === null) return
    if (p.onClear && draft.trim() === '') {
      setWhy(p.value === null ? null : p.onClear())
      setDraft(null)
      return
    }
    const parsed = parseQuantity(draft, p.unit, system)
    const fault = parsed.ok ? (rangeFault(parsed.value, p, p.unit, system) ?? p.onSet(parsed.value)) : parsed.why
    setWhy(fault !== null && leave && shown ? `${fault} The value stays ${shown}.` : fault, leave)
    if (fault === null || leave) setDraft(null)
  }

  const onKeyDown = (event: React.KeyboardEvent<HTMLInputElement>) => {
    entering.current = false
    const way = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0
    if (way !== 0 && !event.altKey && !event.ctrlKey && !event.metaKey) {
      event.preventDefault()
      event.stopPropagation()
      const parsed = draft === null ? null : parseQuantity(draft, p.unit, system)
      setDraft(null)
      drag.step(parsed?.ok ? parsed.value : null, way * (event.shiftKey ? 10 : 1))
      return
    }
    if (event.key === 'Shift') return
    drag.end()
    if (event.key === 'Enter') {
      commit(false)
      setEntered(entered + 1)
    }
    if (event.key === 'Escape' && (draft !== null || why !== null)) {
      event.stopPropagation()
      setDraft(null)
      setWhy(null)
    }
  }

  return (
    <div className="ui-field" data-invalid={isInvalid || undefined} title={p.description}>
      <label htmlFor={inputId} className={p.hideLabel ? 'ui-hidden' : 'ui-label ui-scrub'} {...drag.scrub}>
        {p.label}
      </label>
      <span className="ui-box">
        <input
          ref={input}
          id={inputId}
          className="ui-input ui-number"
          type="text"
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          role="spinbutton"
          disabled={p.isDisabled}
          data-draft={draft !== null || undefined}
          aria-valuenow={p.value === null ? undefined : toShown(p.value)}
          aria-valuetext={
            p.value === null ? (p.whenEmpty ?? 'different values') : `${shown} ${unitLabel(p.unit, system)}`
          }
          placeholder={p.value === null ? (p.whenEmpty ? '–' : 'varied') : undefined}
          aria-valuemin={Number.isFinite(p.min) ? toShown(p.min) : undefined}
          aria-valuemax={Number.isFinite(p.max) ? toShown(p.max) : undefined}
          aria-invalid={isInvalid || undefined}
          aria-describedby={p.description ? doesId : undefined}
          aria-errormessage={why !== null ? whyId : undefined}
          value={draft ?? shownText(shown)}
          onFocus={(event) => {
            entering.current = true
            event.currentTarget.select()
            if (draft === null) setWhy(null)
          }}
          onMouseUp={(event) => {
            // After the focus has come WebKit sets the caret where it was pressed, Firefox does so when it is let go: all of it stays selected.
            const field = event.currentTarget
            if (!entering.current) return
            entering.current = false
            event.preventDefault()
            if (field.selectionStart === field.selectionEnd) field.select()
          }}
          onChange={(event) => {
            setDraft(event.currentTarget.value)
            setWhy(null)
          }}
          onKeyDown={onKeyDown}
          onKeyUp={(event) => {
            if (event.key === 'ArrowUp' || event.key === 'ArrowDown') drag.end()
          }}
          onBlur={() => {
            drag.endKeys()
            commit(true)
          }}
        />
        <span className="ui-unit" aria-hidden="true">
          {unitLabel(p.unit, system)}
        </span>
      </span>
      {p.description && (
        <span id={doesId} hidden>
          {p.description}
        </span>
      )}
      <span id={whyId} role="alert" className="ui-why">
        {why}
      </span>
    </div>
  )
}

/** Held arrow keys and scrubs. The latest props live in a ref, so that a session outlasts the renders it causes. */
function useNumberDrag(p: NumberFieldProps, setWhy: (why: string | null) => void) {
  const latest = useRef(p)
  latest.current = p
  const session = useRef<NumberDragSession | null>(null)
  const scrub = useRef<{ x: number; from: number } | null>(null)

  const preview = (value: number) => {
    const now = latest.current
    if (!session.current && now.onBeginDrag) session.current = now.onBeginDrag()
    setWhy(session.current ? session.current.preview(value) : now.onSet(value))
  }
  const end = (keep = true) => {
    const last = session.current
    session.current = null
    scrub.current = null
    if (!last) return
    if (keep) last.commit()
    else last.cancel()
  }
  const stop = useRef(end)
  stop.current = end
  useEffect(() => () => stop.current(), []) // unmounting during a session commits the last preview

  const onPointerDown = (event: React.PointerEvent<HTMLLabelElement>) => {
    const { value, isDisabled } = latest.current
    if (event.button !== 0 || isDisabled || value === null) return
    scrub.current = { x: event.clientX, from: value }
    event.currentTarget.setPointerCapture(event.pointerId)
  }
  const onPointerMove = (event: React.PointerEvent<HTMLLabelElement>) => {
    const from = scrub.current
    if (!from) return
    const steps = Math.round((event.clientX - from.x) / PX_PER_STEP) * (event.shiftKey ? 10 : 1)
    if (steps === 0 && !session.current) return
    preview(stepped(from.from, steps, latest.current, unitSystem()))
  }
  const onKeyCancel = (event: React.PointerEvent<HTMLLabelElement>) => {
    event.preventDefault()
    end(false)
  }

  return {
    end,
    /** A press on the label blurs the field: that must not end the scrub which it begins. */
    endKeys: () => {
      if (!scrub.current) end()
    },
    step: (from: number | null, steps: number) => {
      const now = latest.current
      const start = from ?? now.value
      if (start !== null) preview(stepped(start, steps, now, unitSystem()))
    },
    scrub: {
      onPointerDown,
      onPointerMove,
      onPointerUp: () => end(),
      onPointerCancel: onKeyCancel,
      onLostPointerCapture: () => end(),
    },
  }
}
