export { ConnectedSetupCard, ConnectedSpecCard } from './ConnectedCard.tsx';
export { SetupCard, type SetupCardProps } from './SetupCard.tsx';
export { SpecCard, type SpecCardProps } from './SpecCard.tsx';
export { Problem } from './TypedField.tsx';
