// One broken column must not take the page with it: the lamp, its files and the cautions stay in reach.
import { Component, type ReactNode } from 'react'
import { Button } from '../ui/Button.tsx'

interface GuardProps {
  what: string
  children: ReactNode
}

// React catches errors of its children only by a class.
export class Guard extends Component<GuardProps, { why: string | null }> {
  override state: { why: string | null } = { why: null }
  static getDerivedStateFromError(error: unknown) {
    return { why: error instanceof Error ? error.message : String(error) }
  }
  override render() {
    if (this.state.why === null) return this.props.children
    return (
      <div className="shell-broken" role="alert">
        <p>
          <strong>{this.props.what} has a fault and was taken off the page.</strong> The lamp is unharmed; save it to be
          sure.
        </p>
        <p className="shell-quiet">{this.state.why}</p>
        <Button onPress={() => this.setState({ why: null })}>Try again</Button>
      </div>
    )
  }
}
