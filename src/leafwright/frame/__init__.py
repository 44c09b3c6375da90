"""The 3D frame kernel: stiffness, loads, forces along members, batches of variants."""
