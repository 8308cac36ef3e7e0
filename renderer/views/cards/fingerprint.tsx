import { Link } from 'wouter'

/** A content's name, large enough to be copied on to a label; it leads to everything on record of it. */
export function Fingerprint({ fingerprint }: { readonly fingerprint: string }) {
  return (
    <div>
      <span className="quiet">Fingerprint</span>
      <p className="print mono">
        <Link href={`/cards/contents/${fingerprint}`}>{fingerprint}</Link>
      </p>
    </div>
  )
}
