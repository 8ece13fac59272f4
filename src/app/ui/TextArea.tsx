// Several lines of text. Leaving the field commits them; Escape restores the old ones.
import { useState } from 'react'
import { TextArea as Area, TextField as Field, Label } from 'react-aria-components'
import './ui.css'
import './textArea.css'

export function TextArea(p: {
  label: string
  value: string
  maxLength: number
  rows: number
  /** Returns why the text is invalid, or null. */
  onSet(value: string): string | null
}) {
  const [draft, setDraft] = useState<string | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  return (
    <Field
      value={draft ?? p.value}
      isInvalid={why !== null}
      onChange={(text) => {
        setDraft(text)
        setWhy(null)
      }}
      onBlur={() => {
        if (draft !== null && draft !== p.value) setWhy(p.onSet(draft))
        setDraft(null)
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || draft === null) return
        event.preventDefault()
        setDraft(null)
      }}
    >
      <Label className="ui-hidden">{p.label}</Label>
      <Area
        className="ui-input ui-area"
        rows={p.rows}
        maxLength={p.maxLength}
        data-draft={draft !== null || undefined}
      />
      <span role="alert" className="ui-why">
        {why}
      </span>
    </Field>
  )
}
