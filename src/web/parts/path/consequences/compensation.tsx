import { Button, Stack, Text } from '@mantine/core';
import { useRouter } from '@tanstack/react-router';
import type { z } from 'zod';
import type { growthEvaporation } from '../../../../computations/growth/evaporation.ts';
import type { CationRatio } from '../../../../records/common.ts';
import { carriedLoss, compensateAddress, lossesParameter, lossOfBoth } from '../../../drafts/loss-address.ts';
import type { FoundPairs } from '../../../drafts/measured-pairs.ts';

type Answer = z.infer<typeof growthEvaporation.response>;

/** What of the fits can be carried to this path. */
export function lossesBy({ ba1939, ba1968, cu, pairs }: NonNullable<Answer['empirical']>) {
  const [baLosses, cuLosses] = [pairs.map(({ baLoss }) => baLoss), pairs.map(({ cuLoss }) => cuLoss)];
  return {
    ba: lossOfBoth(carriedLoss(ba1939, baLosses), carriedLoss(ba1968, baLosses)),
    cu: carriedLoss(cu, cuLosses),
  };
}

interface CompensationProps {
  answer: Answer;
  found: FoundPairs;
  seriesId: string;
  cations: CationRatio;
  rareEarth: string;
}

/** The way to the target page with the fitted losses, or what to measure before there is one. */
export function Compensation({ answer, found, seriesId, cations, rareEarth }: CompensationProps) {
  const router = useRouter();
  const { empirical } = answer;
  const by = empirical && lossesBy(empirical);
  const losses = by && { Ba: by.ba, Cu: by.cu };
  const parameter = losses ? lossesParameter(losses) : '';
  const isFaint =
    losses !== null &&
    Object.values(losses).some((each) => each && Math.abs(each.value) < 2 * each.standardUncertainty);
  const address = compensateAddress(seriesId, { cations, rareEarth }, parameter);
  return (
    <Stack gap={4} align="flex-start">
      {parameter !== '' ? (
        <>
          <Button
            component="a"
            href={address}
            variant="light"
            onClick={(event) => {
              if (event.metaKey || event.ctrlKey || event.shiftKey) return;
              event.preventDefault();
              router.history.push(address);
            }}
          >
            Compensate in the target
          </Button>
          {isFaint ? (
            <Text size="xs" c="dimmed">
              One of the fitted losses is less than twice its uncertainty: it may be none.
            </Text>
          ) : null}
        </>
      ) : (
        <Text size="sm" c="dimmed">
          {empirical
            ? 'No fitted loss can be carried to this path, so there is nothing to compensate: either its uncertainty is not known, or more is missing than can evaporate and this path is unlike those that were measured. State the uncertainties of the measured ratios, and measure a film before and after this path.'
            : 'To compensate a loss in the target, record the cation ratio of one piece measured before and after a treatment, with its uncertainties.'}
        </Text>
      )}
      {found.remarks.map((remark) => (
        <Text key={remark} size="xs" c="dimmed">
          {remark}
        </Text>
      ))}
    </Stack>
  );
}
