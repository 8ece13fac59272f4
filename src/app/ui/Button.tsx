// A button. `hint` is shown in a tooltip and read as its accessible description.

import type { ReactNode } from 'react'
import { Button as AriaButton, Tooltip, TooltipTrigger } from 'react-aria-components'
import { defined } from './defined.ts'
import './ui.css'

export interface ButtonProps {
  children: ReactNode
  /** Accessible name, where the button shows a symbol instead of words. */
  name?: string
  hint?: string | undefined
  kind?: 'plain' | 'quiet' | 'strong' | 'danger'
  isDisabled?: boolean
  slot?: 'close'
  onPress?(): void
}

export function Button(p: ButtonProps) {
  const button = (
    <AriaButton
      className={`ui-button ui-button-${p.kind ?? 'plain'}`}
      {...defined({ 'aria-label': p.name, isDisabled: p.isDisabled, slot: p.slot, onPress: p.onPress })}
    >
      {p.children}
    </AriaButton>
  )
  if (!p.hint) return button
  return (
    <TooltipTrigger delay={500}>
      {button}
      <Tooltip className="ui-tooltip" offset={4}>
        {p.hint}
      </Tooltip>
    </TooltipTrigger>
  )
}
