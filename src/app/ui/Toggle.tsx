import { Switch } from 'react-aria-components'
import { defined } from './defined.ts'
import './ui.css'

export interface ToggleProps {
  label: string
  value: boolean
  description?: string
  isDisabled?: boolean
  onChange(on: boolean): void
}

export function Toggle(p: ToggleProps) {
  return (
    <div className="ui-slot" title={p.description}>
      <Switch
        className="ui-toggle"
        isSelected={p.value}
        {...defined({ isDisabled: p.isDisabled })}
        onChange={p.onChange}
      >
        <span className="ui-label">{p.label}</span>
        <span className="ui-track" aria-hidden="true" />
      </Switch>
    </div>
  )
}
