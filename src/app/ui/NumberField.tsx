// A number with its unit: typed in any unit of its kind, stepped by arrows, scrubbed by dragging its label.
// A held arrow and a scrub are one step of history each: `onHold` opens it, `drop` closes it.
import { useEffect, useId, useRef, useState } from 'react'
import { parseQuantity, type Range, rangeFault, showNumber, stepped, type Unit, unitLabel } from '../common/units.ts'
import './ui.css'

/** An edit in progress. `show` says why a value can't stand, or null. */
export interface NumberHold {
  show(value: number): string | null
  drop(): void
  cancel(): void
}

export interface NumberFieldProps extends Range {
  label: string
  /** The label is for screen readers only: the field stands in a table that names it. */
  hideLabel?: boolean
  /** Null: several things with different values. */
  value: number | null
  unit: Unit
  step: number
  /** What the number does, in one short line. */
  does?: string
  digits?: number
  isDisabled?: boolean
  /** Says why the value can't stand, or null when it does. */
  onSet(value: number): string | null
  /** Without it, arrows and scrubs set each value singly. */
  onHold?(): NumberHold
}

const PX_PER_STEP = 4

export function NumberField(p: NumberFieldProps) {
  const inputId = useId()
  const doesId = useId()
  const whyId = useId()
  const [draft, setDraft] = useState<string | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  const held = useHeld(p, setWhy)
  const shown = p.value === null ? '' : showNumber(p.value, p.digits)

  const commit = (leave: boolean) => {
    if (draft === null) return
    const parsed = parseQuantity(draft, p.unit)
    const fault = parsed.ok ? (rangeFault(parsed.value, p, p.unit) ?? p.onSet(parsed.value)) : parsed.why
    setWhy(fault === null ? null : leave && shown ? `${fault} The value stays ${shown}.` : fault)
    if (fault === null || leave) setDraft(null)
  }

  const onKeyDown = (event: React.KeyboardEvent<HTMLInputElement>) => {
    const way = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0
    if (way !== 0 && !event.altKey && !event.ctrlKey && !event.metaKey) {
      event.preventDefault()
      event.stopPropagation()
      const parsed = draft === null ? null : parseQuantity(draft, p.unit)
      setDraft(null)
      held.step(parsed?.ok ? parsed.value : null, way * (event.shiftKey ? 10 : 1))
      return
    }
    if (event.key === 'Shift') return
    held.end()
    if (event.key === 'Enter') commit(false)
    if (event.key === 'Escape' && (draft !== null || why !== null)) {
      event.stopPropagation()
      setDraft(null)
      setWhy(null)
    }
  }

  return (
    <div className="ui-field" data-invalid={why !== null || undefined} title={p.does}>
      <label htmlFor={inputId} className={p.hideLabel ? 'ui-hidden' : 'ui-label ui-scrub'} {...held.scrub}>
        {p.label}
      </label>
      <span className="ui-box">
        <input
          id={inputId}
          className="ui-input ui-number"
          type="text"
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          role="spinbutton"
          disabled={p.isDisabled}
          data-draft={draft !== null || undefined}
          aria-valuenow={p.value ?? undefined}
          aria-valuetext={p.value === null ? 'different values' : `${shown} ${unitLabel(p.unit)}`}
          placeholder={p.value === null ? 'varied' : undefined}
          aria-valuemin={Number.isFinite(p.min) ? p.min : undefined}
          aria-valuemax={Number.isFinite(p.max) ? p.max : undefined}
          aria-invalid={why !== null || undefined}
          aria-describedby={p.does ? doesId : undefined}
          aria-errormessage={why !== null ? whyId : undefined}
          value={draft ?? shown}
          onFocus={(event) => event.currentTarget.select()}
          onChange={(event) => {
            setDraft(event.currentTarget.value)
            setWhy(null)
          }}
          onKeyDown={onKeyDown}
          onKeyUp={(event) => {
            if (event.key === 'ArrowUp' || event.key === 'ArrowDown') held.end()
          }}
          onBlur={() => {
            held.endKeys()
            commit(true)
          }}
        />
        <span className="ui-unit" aria-hidden="true">
          {unitLabel(p.unit)}
        </span>
      </span>
      {p.does && (
        <span id={doesId} hidden>
          {p.does}
        </span>
      )}
      <span id={whyId} role="alert" className="ui-why">
        {why}
      </span>
    </div>
  )
}

/** Held arrows and scrubs. The latest props live in a ref, so that a hold outlasts the renders it causes. */
function useHeld(p: NumberFieldProps, setWhy: (why: string | null) => void) {
  const latest = useRef(p)
  latest.current = p
  const hold = useRef<NumberHold | null>(null)
  const scrub = useRef<{ x: number; from: number } | null>(null)

  const show = (value: number) => {
    const now = latest.current
    if (!hold.current && now.onHold) hold.current = now.onHold()
    setWhy(hold.current ? hold.current.show(value) : now.onSet(value))
  }
  const end = (keep = true) => {
    const last = hold.current
    hold.current = null
    scrub.current = null
    if (!last) return
    if (keep) last.drop()
    else last.cancel()
  }
  const stop = useRef(end)
  stop.current = end
  useEffect(() => () => stop.current(), []) // a field that goes away mid-hold keeps what was shown

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
    if (steps === 0 && !hold.current) return
    show(stepped(from.from, steps, latest.current.step, latest.current))
  }
  const onKeyCancel = (event: React.PointerEvent<HTMLLabelElement>) => {
    event.preventDefault()
    end(false)
  }

  return {
    end,
    /** Pressing on a label takes the focus from its field: that must not end the scrub it begins. */
    endKeys: () => {
      if (!scrub.current) end()
    },
    step: (from: number | null, steps: number) => {
      const now = latest.current
      const start = from ?? now.value
      if (start !== null) show(stepped(start, steps, now.step, now))
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
