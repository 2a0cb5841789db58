-- What the planner keeps besides.
SELECT 1;
