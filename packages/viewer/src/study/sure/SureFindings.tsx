import { FINDING_WORDS, type HowSure, repeatWords, type SureFinding } from '@barwright/geometry';
import { SURE_TEXTS } from '../../look/texts/sure.ts';

const T = SURE_TEXTS.findings;

/** Of the horses drawn, how many show each finding. */
export function SureFindings({ result }: { result: HowSure }) {
  const { findings, lost, draws } = result;
  if (findings.length === 0) return <p className="soft">{draws - lost < 20 ? T.tooFew : T.none}</p>;
  return (
    <>
      <p>{T.intro}</p>
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
        <strong>{FINDING_WORDS[code]}</strong> {T.shownBy(count)}
        {isOpen && (
          <>
            : <span className="cannot">{T.cannot}</span>
          </>
        )}
        .{' '}
        <span className="small soft">
          {isShown ? T.shown : T.notShown}
          {repeat !== null && ` ${T.narrow(capital(repeatWords(repeat)))}`}
        </span>
      </p>
      <span className={isShown ? 'count shown' : 'count'} aria-hidden="true">
        <span style={{ width: `${count}%` }} />
      </span>
    </li>
  );
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
