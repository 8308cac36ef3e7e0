import type { ReactNode } from 'react'
import { SEVERITIES, type Finding } from '../../app/model/finding.ts'
import { counted } from './in-words.ts'
import { SeverityMark } from './severity-mark.tsx'

interface FindingsListProps {
  readonly findings: readonly Finding[]
  /** What can be done about one, shown under it. */
  readonly act?: (finding: Finding) => ReactNode
}

/** Findings, the gravest first, each with why it matters and how to mend it. */
export function FindingsList({ findings, act }: FindingsListProps) {
  return SEVERITIES.map((severity) => {
    const these = findings.filter((finding) => finding.severity === severity)
    if (these.length === 0) return null
    return (
      <section key={severity} aria-label={counted(these.length, severity)}>
        {these.map((finding) => (
          <article className="finding" key={`${finding.rule} ${finding.path} ${finding.message}`}>
            <div className="finding-head">
              <SeverityMark severity={severity} />
              {finding.path !== null && <strong className="mono break">{finding.path}</strong>}
              <span className="quiet">{finding.rule}</span>
            </div>
            <p className="break">{finding.message}</p>
            <dl className="facts">
              <dt>Why it matters</dt>
              <dd>{finding.why}</dd>
              <dt>How to mend it</dt>
              <dd>{finding.mend}</dd>
            </dl>
            {act?.(finding)}
          </article>
        ))}
      </section>
    )
  })
}
