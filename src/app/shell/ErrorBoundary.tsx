// An error in one column must not take down the page: the lamp, its files and the cautions stay available.
import { Component, type ReactNode } from 'react'
import { Button } from '../ui/Button.tsx'

interface ErrorBoundaryProps {
  what: string
  children: ReactNode
}

// React offers error boundaries only as classes.
export class ErrorBoundary extends Component<ErrorBoundaryProps, { why: string | null }> {
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
