#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# A range in parts by a Slurm job array: one task a part. Sent again, it does only what is left.
#   sbatch --array=1-N --wait contrib/range-slurm.sh OUT N FOLDER… [options of range]
#   housepower range --join OUT/*-of-N.csv -o range.csv
# Folders are those that every node sees. CONTRIB is where range-part.sh is, if not ./contrib.
#SBATCH --job-name=range
#SBATCH --requeue
#SBATCH --output=/dev/null
set -u
[ $# -ge 3 ] || { sed -n 4,6p "$0" >&2; exit 2; }
out=$1 parts=$2
shift 2
exec "${CONTRIB:-contrib}/range-part.sh" "$out" "$SLURM_ARRAY_TASK_ID" "$parts" "$@"
