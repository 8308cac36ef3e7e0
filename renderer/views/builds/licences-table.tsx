import { Link } from 'wouter'
import type { Licence } from '../../../app/model/records.ts'

export function LicencesTable({ licences }: { readonly licences: readonly Licence[] }) {
  return (
    <div className="table-frame">
      <table className="table">
        <thead>
          <tr>
            <th>Font</th>
            <th>Kind</th>
            <th>Holder</th>
            <th>Granted on</th>
            <th>Order reference</th>
            <th>Terms</th>
          </tr>
        </thead>
        <tbody>
          {licences.map((licence) => (
            <tr key={licence.id}>
              <td className="name">
                <Link href={`/builds/licences/${licence.id}`}>{licence.fontName}</Link>
              </td>
              <td>{licence.kind}</td>
              <td>{licence.holder || '–'}</td>
              <td className="number">{licence.grantedOn || '–'}</td>
              <td className="break">{licence.orderReference || '–'}</td>
              <td className="break">{licence.terms || '–'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
