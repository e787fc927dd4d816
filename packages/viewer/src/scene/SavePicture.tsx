import { CAUTIONS } from '@barwright/geometry';
import { useState } from 'react';
import { fileNameFor, saveBlob } from '../files/save-file.ts';
import { useIsAsking } from '../lesson/asking.ts';
import { TEXTS } from '../look/texts.ts';
import { useDocument, useResult, useView } from '../state/hooks.ts';
import { takePicture } from './picture-taker.ts';
import { useIsBent } from './SceneControls.tsx';
import { useShown } from './shown-store.ts';
import { useLook } from './use-look.ts';

const T = TEXTS.looking;

/** The picture as a file for print, with its scale, what is exaggerated, and the cautions. */
export function SavePicture() {
  const look = useLook();
  const back = useResult((result) => result.back);
  const pattern = useDocument((documents) => documents.pattern.name);
  const view = useView((v) => v);
  const shown = useShown();
  const isBent = useIsBent();
  const isAsking = useIsAsking();
  const [isMissing, setMissing] = useState(false);
  const save = async (): Promise<void> => {
    const how = shown?.words ?? (view.isLaidOn ? TEXTS.maps.laidOn : TEXTS.maps.underRider);
    const times = isBent ? view.bendingTimes : 1;
    const blob = await takePicture({
      title: TEXTS.maps.title(look.title, pattern, back?.name ?? ''),
      look,
      units: view.units,
      notes: [
        `${how}. ${times > 1 ? T.bendingDrawn(times) : T.trueShape} ${T.perspective}`,
        CAUTIONS.slice(0, 3)
          .map(({ short }) => short)
          .join(' '),
      ],
    });
    setMissing(blob === null);
    if (blob !== null) saveBlob(blob, fileNameFor(`${pattern} ${view.colour}`, 'picture', 'png'));
  };
  return (
    <button type="button" disabled={isAsking || back === null || isMissing} onClick={() => void save()}>
      {isMissing ? T.noPicture : T.savePicture}
    </button>
  );
}
