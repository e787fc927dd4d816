import { TEXTS } from '../../look/texts.ts';
import { resultStore } from '../../state/stores.ts';
import { keepBench } from './kept-store.ts';

const T = TEXTS.compare;

/** Keeps what lies on the bench, without opening anything: one notice says under which name. */
export function KeepButton() {
  return (
    <button
      type="button"
      className="study-keep"
      title={T.keepTip}
      onClick={() => void keepBench().then((notice) => resultStore.setState({ notice }))}
    >
      {T.keep}
    </button>
  );
}
