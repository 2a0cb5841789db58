-- People with a name each, paired phones, sessions.
SELECT 1;
