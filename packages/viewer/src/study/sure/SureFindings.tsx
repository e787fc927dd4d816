import { FINDING_WORDS, type HowSure, repeatWords, type SureFinding } from '@barwright/geometry';

/** Of the horses drawn, how many show each finding. */
export function SureFindings({ result }: { result: HowSure }) {
  const { findings, lost, draws } = result;
  if (findings.length === 0)
    return (
      <p className="soft">
        {draws - lost < 20
          ? 'Too few of the drawn horses settled: nothing can be said.'
          : 'No finding is shown, and none by more than 5 of 100 of the drawn horses. That is not a verdict.'}
      </p>
    );
  return (
    <>
      <p>Of 100 horses that these measurements could have come from:</p>
      <ul className="sure-findings">
        {findings.map((finding) => (
          <FindingRow key={finding.code} finding={finding} />
        ))}
      </ul>
    </>
  );
}

function FindingRow({ finding: { code, isShown, share, isOpen, repeat } }: { finding: SureFinding }) {
  const count = Math.round(100 * share);
  return (
    <li data-code={code} className={isOpen ? 'open' : undefined}>
      <p>
        <strong>{FINDING_WORDS[code]}</strong> shown by {count} of 100
        {isOpen && (
          <>
            : <span className="cannot">can’t tell from these measurements</span>
          </>
        )}
        .{' '}
        <span className="small soft">
          {isShown ? 'The measurements as they are show it.' : 'The measurements as they are do not show it.'}
          {repeat !== null && ` ${capital(repeatWords(repeat))} would narrow it most.`}
        </span>
      </p>
      <span className={isShown ? 'count shown' : 'count'} aria-hidden="true">
        <span style={{ width: `${count}%` }} />
      </span>
    </li>
  );
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
