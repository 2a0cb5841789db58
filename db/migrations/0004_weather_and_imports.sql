-- Weather by day, remembered column mappings, what was imported.
SELECT 1;
