/** A content's name, large enough to be copied on to a label. */
export function Fingerprint({ fingerprint }: { readonly fingerprint: string }) {
  return (
    <div>
      <span className="quiet" id="fingerprint-name">
        Fingerprint
      </span>
      <p className="print mono" aria-labelledby="fingerprint-name">
        {fingerprint}
      </p>
    </div>
  )
}
