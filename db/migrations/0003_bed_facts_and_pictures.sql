-- Facts of a bed and pictures.
SELECT 1;
