export { InputError, type InputErrorCode, type InputErrorDetails, showGot } from './numeric/input-error.ts';
