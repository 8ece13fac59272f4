// A line of text. Enter or leaving the field commits it; Escape restores the old text.
import { useState } from 'react'
import { TextField as Field, Input, Label } from 'react-aria-components'
import './ui.css'

export interface TextFieldProps {
  label: string
  value: string
  hideLabel?: boolean
  description?: string
  maxLength?: number
  className?: string
  /** Returns why the text is invalid, or null. */
  onSet(value: string): string | null
}

export function TextField(p: TextFieldProps) {
  const [draft, setDraft] = useState<string | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  const commit = (leave: boolean) => {
    if (draft === null) return
    const fault = draft === p.value ? null : p.onSet(draft)
    setWhy(fault)
    if (fault === null || leave) setDraft(null)
  }
  return (
    <div className="ui-slot" title={p.description}>
      <Field
        className={p.className ?? 'ui-field ui-field-words'}
        value={draft ?? p.value}
        isInvalid={why !== null}
        {...(p.hideLabel && { 'aria-label': p.label })}
        onChange={(text) => {
          setDraft(text)
          setWhy(null)
        }}
        onBlur={() => commit(true)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit(false)
          if (event.key === 'Escape') {
            setDraft(null)
            setWhy(null)
          }
        }}
      >
        {!p.hideLabel && <Label className="ui-label">{p.label}</Label>}
        <Input
          className="ui-input ui-text"
          autoComplete="off"
          spellCheck={false}
          maxLength={p.maxLength}
          data-draft={draft !== null || undefined}
        />
        <span role="alert" className="ui-why">
          {why}
        </span>
      </Field>
    </div>
  )
}
